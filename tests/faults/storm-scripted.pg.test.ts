import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Chance } from '../sim/chance.ts';
import { COMMIT_SWALLOWED, COMMIT_UNSENT } from './storm/database-line.ts';
import { connectionStorm, type DisasterName, type Storm, strike, until } from './storm/disasters.ts';
import { explained } from './storm/explain.ts';
import { judge } from './storm/judge.ts';
import { type OwnPostgres, ownPostgres } from './storm/own-postgres.ts';
import { REQUEST_FAULTS } from './storm/phone-line.ts';
import { HEALED_WITHIN_MS, StormWorld } from './storm/world.ts';

const seed = Number(process.env.FAULT_SEED ?? Math.floor(Math.random() * 2 ** 31));

let postgres: OwnPostgres;
let storm: Storm;

beforeAll(async () => {
  console.info(`FAULT_SEED=${seed}`);
  postgres = await ownPostgres();
  const db = await postgres.database();
  const world = await StormWorld.open({
    seed,
    db,
    phones: 7,
    processes: 2,
    where: 'own',
    durable: 'replicated',
    features: { deaths: true },
  });
  storm = { world, postgres, chance: new Chance(seed + 1) };
  world.follow();
}, 120_000);
afterAll(async () => {
  await storm?.world.close();
  await postgres?.stop();
}, 60_000);

interface Scenario {
  readonly disasters: readonly DisasterName[];
  /** Probability that a request meets a fault. */
  readonly requests: number;
  /** What must have happened: else the scenario has shown nothing. */
  readonly must: readonly string[];
}

/** Everybody works until all of it has happened; then all faults end, and everything is judged. */
async function play({ disasters, requests, must }: Scenario): Promise<void> {
  const { world } = storm;
  const { counts, history } = world;
  counts.all.clear();
  const [captured, acknowledged] = [history.captures.size, history.acknowledged.size];
  for (const phone of world.phones) phone.line.faults = requests;
  world.work();
  await strike(storm, disasters);
  await until(() => must.every((what) => counts.of(what) > 0) && history.captures.size > captured + 20, 20_000);
  await judged();
  expect(must.filter((what) => counts.of(what) === 0)).toEqual([]);
  expect(history.captures.size).toBeGreaterThan(captured + 20);
  expect(history.acknowledged.size - acknowledged).toBe(history.captures.size - captured);
}

async function judged(): Promise<void> {
  const { world } = storm;
  await world.heal();
  await judge(world);
  if (world.findings.list.length > 0) console.error(await explained(world));
  expect(world.findings.list).toEqual([]);
  expect(world.healedInMs.at(-1)).toBeLessThan(HEALED_WITHIN_MS);
  console.info(`healed in ${world.healedInMs.at(-1)} ms; ${JSON.stringify(Object.fromEntries(world.counts.all))}`);
}

describe('two processes, seven phones, one PostgreSQL, and everything between them fails', () => {
  it('[W2] [W14] replies to COMMITs are lost, and connections before a COMMIT', async () => {
    const disasters = ['swallowCommits', 'cutBeforeCommits', 'swallowCommits', 'cutDatabase'] as const;
    await play({
      disasters,
      requests: 0.05,
      must: [COMMIT_SWALLOWED, COMMIT_UNSENT, 'connection to the database cut'],
    });
  }, 90_000);

  it('[W1] [L3] a process is killed and started anew, and another stands still', async () => {
    const disasters = ['killApi', 'holdPhone', 'slow', 'pauseApi'] as const;
    await play({ disasters, requests: 0.05, must: ['process killed', 'process paused', 'way of a phone paused'] });
  }, 90_000);

  it('[F3] [L3] sessions end, a session is killed, and then all of PostgreSQL', async () => {
    const disasters = ['terminate', 'killBackend', 'holdDatabase', 'killPostgres'] as const;
    const must = ['session terminated', 'backend killed', 'way to the database paused', 'PostgreSQL killed'];
    await play({ disasters, requests: 0.05, must });
  }, 90_000);

  it('[W2] requests are dropped, cut and doubled, answers swallowed and cut, in one direction and in both', async () => {
    const disasters = ['partition', 'slow', 'holdPhone', 'partition'] as const;
    const must = [...REQUEST_FAULTS, 'answer swallowed (push)', 'answer cut (push)'];
    await play({ disasters, requests: 0.4, must });
    const { counts } = storm.world;
    expect(counts.of('swallowed up') + counts.of('swallowed down')).toBeGreaterThan(0);
  }, 90_000);

  it('[L1] [L8] every phone comes again at once, and two hundred streams with them', async () => {
    const { world } = storm;
    world.counts.all.clear();
    world.work();
    await sleep(300);
    const readers = await connectionStorm(storm);
    await sleep(300);
    await judged();
    expect(readers.length).toBe(200);
    const query = 'select feed, max(seq)::int as tail from ledger group by feed';
    const { rows } = await world.options.db.bypass.query<{ feed: string; tail: number }>(query);
    for (const reader of readers) {
      for (const { feed, tail } of rows) await reader.untilTail(feed, tail, HEALED_WITHIN_MS);
      reader.cut();
    }
  }, 90_000);

  it('and at last the phones keep nothing, since everything is safe', async () => {
    const { world } = storm;
    for (const { sim } of world.phones) {
      for (const { client, mutationId } of await sim.client.troubles()) await sim.client.dismiss(client, mutationId);
    }
    await world.heal();
    expect(world.phones.map(({ sim }) => sim.contents.entries.size)).toEqual(world.phones.map(() => 0));
  }, 60_000);
});
