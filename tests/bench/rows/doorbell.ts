import { type Child, startChild } from '../child.ts';
import type { Cleanup } from '../cleanup.ts';
import { CLIENTS, type Ground, serverEnvironment } from '../ground.ts';
import { alternating, type InTurn } from '../in-turn.ts';
import { meterOf, type Side, sideOf } from '../meter.ts';
import { type Round, type Row, roundOf } from '../row.ts';
import { pushOverHttp } from '../sides/http-push.ts';
import { Listeners } from '../sides/listeners.ts';
import { BATCH, readyPushes } from './push.ts';

/** The server, with somebody who listens, and the same server that tells nobody. */
export interface DoorbellSides {
  readonly silent: Child;
  readonly inTurn: InTurn;
}

export async function openDoorbell(cleanup: Cleanup, ground: Ground): Promise<DoorbellSides> {
  const silent = await startChild(cleanup, 'tests/bench/sides/silent-server.ts', serverEnvironment(ground.database));
  const { headers } = await ground.firm.phone();
  const path = '/v1/sync/stream';
  const listener = await Listeners.open({ url: ground.server.url, path, headers: [headers], count: 1 });
  cleanup.add(() => listener.close());
  return { silent, inTurn: alternating() };
}

async function pushTo(ground: Ground, server: Child, batches: number): Promise<Side> {
  const side = { ...ground, server, meter: meterOf([process.pid, ground.postgres.pid, server.pid]) };
  // what it remembers is stale where the other one has written: that is not what is measured
  await pushOverHttp(side, await readyPushes(ground, 1, BATCH));
  const pushes = await readyPushes(ground, batches, BATCH);
  await ground.postgres.calm();
  return sideOf(batches * BATCH * CLIENTS, await pushOverHttp(side, pushes));
}

export async function doorbellRound(ground: Ground, sides: DoorbellSides, batches: number): Promise<Round> {
  const { own, other } = await sides.inTurn(
    () => pushTo(ground, ground.server, batches),
    () => pushTo(ground, sides.silent, batches),
  );
  return roundOf(own, other);
}

export function doorbellRow(rounds: readonly Round[]): Row {
  return {
    name: `push, batches of ${BATCH} from ${CLIENTS} clients, each commit told`,
    against: 'the same server telling nobody',
    unit: 'readings/s',
    measure: 'rate',
    target: 0.98,
    rounds,
  };
}
