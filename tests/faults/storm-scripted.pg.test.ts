import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Chance } from '../sim/chance.ts';
import { COMMIT_SWALLOWED, COMMIT_UNSENT, COMMIT_VANISHED } from './storm/database-line.ts';
import { connectionStorm, type Storm, until, untilAnybody } from './storm/disasters.ts';
import { type OwnPostgres, ownPostgres } from './storm/own-postgres.ts';
import { REQUEST_FAULTS } from './storm/phone-line.ts';
import { judged, play } from './storm/play.ts';
import { HEALED_WITHIN_MS, StormWorld } from './storm/world.ts';

const LONG = process.env.LONG === '1';
/** Of every run the same, so that it shows what it showed before; of a long one another each time. */
const seed = Number(process.env.FAULT_SEED ?? (LONG ? Math.floor(Math.random() * 2 ** 31) : 1));

/** What a slow machine takes at most, which may have to strike again; what must be healed within a time says so itself. */
const PATIENT = { timeout: 240_000 };
const PATIENCE_MS = 60_000;
const YEAR_MS = 31_557_600_000;

/** What the clock of the phone said when this was captured. */
function wallOf(line: string): string {
  return (JSON.parse(line) as { clock: { wall: string } }).clock.wall;
}

/** Bytes that went one way arrived nowhere. */
const SWALLOWED = ['swallowed up', 'swallowed down'];

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
    features: { deaths: true, lyingClocks: true },
  });
  storm = { world, postgres, chance: new Chance(seed + 1) };
  world.follow();
}, 120_000);
afterAll(async () => {
  await storm?.world.close();
  await postgres?.stop();
}, 60_000);

/** These wait for what takes long, and a run of its own has the time. */
const inLongRun = it.runIf(LONG);

describe('two processes, seven phones, one PostgreSQL, and everything between them fails', PATIENT, () => {
  it('[W2] [W14] replies to COMMITs are lost, and connections before a COMMIT', async () => {
    const disasters = ['swallowCommits', 'cutBeforeCommits', 'swallowCommits', 'cutDatabase'] as const;
    await play(storm, {
      disasters,
      requests: 0.05,
      must: [COMMIT_SWALLOWED, COMMIT_UNSENT, 'connection to the database cut'],
    });
  });

  it('[W1] [L3] a process is killed and started anew, and another stands still', async () => {
    const disasters = ['killApi', 'holdPhone', 'slow', 'pauseApi'] as const;
    await play(storm, {
      disasters,
      requests: 0.05,
      must: ['process killed', 'process paused', 'way of a phone paused'],
    });
  });

  it('[F3] [L3] sessions end, a session is killed, and then all of PostgreSQL', async () => {
    const disasters = ['terminate', 'killBackend', 'holdDatabase', 'killPostgres'] as const;
    const must = ['session terminated', 'backend killed', 'way to the database paused', 'PostgreSQL killed'];
    await play(storm, { disasters, requests: 0.05, must });
  });

  it('[W2] requests are dropped, cut and doubled, answers swallowed and cut, in one direction and in both', async () => {
    const disasters = ['partition', 'slow', 'holdPhone', 'partition'] as const;
    const must = [...REQUEST_FAULTS, 'answer swallowed (push)', 'answer cut (push)', SWALLOWED];
    await play(storm, { disasters, requests: 0.4, must });
  });

  inLongRun(
    '[W2] [W14] [L3] a process is parted from the database in one direction, its connections fall silent, ways trickle',
    async () => {
      const disasters = ['partitionDatabase', 'silenceDatabase', 'trickle', 'partitionDatabase'] as const;
      const parted = ['process parted from the database up', 'process parted from the database down'];
      const must = [COMMIT_VANISHED, 'way of a phone trickles', parted, SWALLOWED];
      await play(storm, { disasters, requests: 0.05, must });
    },
  );

  // it takes as long as the database and the process wait: ten and twenty seconds
  inLongRun(
    '[W14] [L3] a connection that falls silent while it has the lock of the firm stops nobody for half a minute',
    async () => {
      const { counts, history, phones, apis } = storm.world;
      counts.all.clear();
      storm.world.work();
      apis[0]?.database.arm('silent', 1);
      await untilAnybody(storm.world, () => counts.of(COMMIT_VANISHED) > 0, PATIENCE_MS);
      expect(counts.of(COMMIT_VANISHED)).toBe(1);
      const beganMs = performance.now();
      await storm.world.rest();
      const answered = async () => {
        await Promise.all(phones.map((phone) => phone.sync()));
        return history.all().every(({ told }) => told !== null);
      };
      await until(answered, HEALED_WITHIN_MS);
      expect(await answered()).toBe(true);
      console.info(`all was answered ${Math.round(performance.now() - beganMs)} ms after the silence began`);
      await judged(storm);
    },
  );

  inLongRun(
    '[A6] [W2] [F3] clocks of phones lie by years, and those of the processes jump by years, forth and back',
    async () => {
      const { apis, history, options, phones } = storm.world;
      for (const [at, api] of apis.entries()) api.stepClock((at % 2 === 0 ? -3 : 2) * YEAR_MS);
      const spreadMs = async () => {
        const query = `select extract(epoch from max(received_at) - min(received_at))::float8 * 1000 as ms from ledger`;
        const { rows } = await options.db.bypass.query<{ ms: number }>(query);
        return rows[0]?.ms ?? 0;
      };
      const began = history.captures.size;
      // both have written before their clocks jump again
      storm.world.work();
      await untilAnybody(storm.world, async () => (await spreadMs()) > 4 * YEAR_MS, PATIENCE_MS);
      await storm.world.rest();
      const disasters = ['stepClock', 'swallowCommits', 'stepClock', 'killApi', 'stepClock'] as const;
      await play(storm, { disasters, requests: 0.05, must: ['clock of a process stepped', COMMIT_SWALLOWED] });
      for (const api of apis) api.stepClock(0);
      const captured = history
        .all()
        .slice(began)
        .map(({ line }) => Date.parse(wallOf(line)));
      expect(Math.max(...captured) - Math.min(...captured)).toBeGreaterThan(YEAR_MS);
      expect(new Set(phones.map(({ sim }) => sim.wall().slice(0, 4))).size).toBeGreaterThan(1);
      expect(await spreadMs()).toBeGreaterThan(4 * YEAR_MS);
    },
  );

  it('[L1] [L8] every phone comes again at once, and two hundred streams with them', async () => {
    const { world } = storm;
    world.counts.all.clear();
    world.work();
    await sleep(300);
    const readers = await connectionStorm(storm);
    await sleep(300);
    await judged(storm);
    expect(readers.length).toBe(200);
    const query = 'select feed, max(seq)::int as tail from ledger group by feed';
    const { rows } = await world.options.db.bypass.query<{ feed: string; tail: number }>(query);
    for (const reader of readers) {
      for (const { feed, tail } of rows) await reader.untilTail(feed, tail, HEALED_WITHIN_MS);
      reader.cut();
    }
  });

  it('and at last the phones keep nothing, since everything is safe', async () => {
    const { world } = storm;
    for (const { sim } of world.phones) {
      for (const { client, mutationId } of await sim.client.troubles()) await sim.client.dismiss(client, mutationId);
    }
    await world.heal();
    expect(world.phones.map(({ sim }) => sim.contents.entries.size)).toEqual(world.phones.map(() => 0));
  });
});
