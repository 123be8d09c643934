import { CLIENTS, type Ground } from '../ground.ts';
import type { InTurn } from '../in-turn.ts';
import { type Measured, sideOf } from '../meter.ts';
import { alone, documentsOf, inBulk, type PeerWrite } from '../peer/documents.ts';
import { PEER_NAME, type Peer } from '../peer/start.ts';
import type { Push } from '../readings.ts';
import { type Round, type Row, roundOf } from '../row.ts';
import { pushOverHttp } from '../sides/http-push.ts';
import { writeToPeer } from '../sides/peer-write.ts';
import { BATCH, readyPushes } from './push.ts';

export const WRITES = 'writes';

/** What one row of writes is measured on. */
export interface PeerWriteSides {
  readonly ground: Ground;
  readonly peer: Peer;
  readonly inTurn: InTurn;
}

/** The same pushes to the server and to the peer, from as many connections, one side after the other. */
async function round(sides: PeerWriteSides, pushes: Push[][], write: (push: Push) => PeerWrite): Promise<Round> {
  const { ground, peer, inTurn } = sides;
  const lists = pushes.map((list) => list.map(write));
  const operations = pushes.flat().reduce((sum, push) => sum + push.mutations, 0);
  const calmly = async (work: () => Promise<Measured>) => {
    await ground.postgres.calm();
    return sideOf(operations, await work());
  };
  const { own, other } = await inTurn(
    () => calmly(() => pushOverHttp(ground, pushes)),
    () => calmly(() => writeToPeer(peer, lists)),
  );
  return roundOf(own, other);
}

export async function peerPushRound(sides: PeerWriteSides): Promise<Round> {
  const { ground } = sides;
  const pushes = await readyPushes(ground, ground.size.batches, BATCH);
  return round(sides, pushes, (push) => inBulk(WRITES, documentsOf(push)));
}

export async function peerSingleRound(sides: PeerWriteSides): Promise<Round> {
  const { ground } = sides;
  const pushes = await readyPushes(ground, ground.size.singles, 1);
  return round(sides, pushes, (push) => {
    const [only] = documentsOf(push);
    if (!only) throw new Error('a push of one mutation holds none');
    return alone(WRITES, only);
  });
}

export function peerPushRow(rounds: readonly Round[]): Row {
  const name = `push, batches of ${BATCH} from ${CLIENTS} clients, one feed`;
  return { name, against: PEER_NAME, unit: 'readings/s', measure: 'rate', target: 2, stretch: 3.5, rounds };
}

export function peerSingleRow(rounds: readonly Round[]): Row {
  const name = `single mutations, ${CLIENTS} at once, one feed`;
  return { name, against: PEER_NAME, unit: 'mutations/s', measure: 'rate', target: 5, rounds };
}
