import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { FIRM } from '../sim/base-firm.ts';
import { testDatabase } from '../support/test-database.ts';
import { until } from './storm/disasters.ts';
import { judge } from './storm/judge.ts';
import type { RequestFault } from './storm/phone-line.ts';
import { cursorFirst, EarlyReader, forgetting, inventing, reissuing } from './storm/sabotage.ts';
import { type StormOptions, StormWorld } from './storm/world.ts';

/** The others are found as well, and take as long again: a run of its own shows them. */
const LONG = process.env.LONG === '1';
const TIMEOUT_MS = 90_000;
const CAPTURES = 15;
const HAPPENS_WITHIN_MS = 20_000;

interface Sabotage {
  readonly plant?: StormOptions['plant'];
  /** The one thing that becomes of requests, where it is needed for the sabotage to show. */
  readonly fault?: RequestFault;
  readonly happened?: (world: StormWorld) => boolean;
  /** Once all was quiet. */
  readonly after?: (world: StormWorld) => Promise<void>;
  /** How long it may take until all is quiet again after that. */
  readonly patienceMs?: number;
}

/** Plays a small world in which something is wrong. @returns what the judge finds */
async function findingsOf({ plant, fault, happened, after, patienceMs = 4_000 }: Sabotage): Promise<string[]> {
  const base = { seed: 7, db: await testDatabase(), phones: 3, processes: 1, where: 'here' } as const;
  const world = await StormWorld.open(plant ? { ...base, plant } : base);
  try {
    world.follow();
    for (const { line } of world.phones) {
      if (!fault) continue;
      line.kinds = [fault];
      line.faults = 0.4;
    }
    world.work(30);
    const { counts, history } = world;
    const isDone = () => (fault ? counts.of(`${fault} (push)`) > 2 : true) && (happened?.(world) ?? true);
    await until(() => isDone() && history.captures.size > CAPTURES, HAPPENS_WITHIN_MS);
    expect(isDone()).toBe(true);
    await world.heal(after || !plant ? undefined : patienceMs);
    if (after) {
      expect(world.findings.list).toEqual([]);
      await after(world);
      await world.heal(patienceMs);
    }
    await judge(world);
    return world.findings.list.map(({ property, detail }) => `${property}: ${detail}`);
  } finally {
    await world.close();
  }
}

/** What nobody but the owner of the database can do, and he only by switching the guards off. */
async function behindTheGuards(world: StormWorld, table: string, statement: string): Promise<void> {
  const owner = await world.options.db.owner();
  await owner.query('begin');
  await owner.query(`alter table ${table} disable trigger user`);
  await owner.query(`alter table ${table} no force row level security`);
  const { rowCount } = await owner.query(statement, [FIRM]);
  await owner.query(`alter table ${table} force row level security`);
  await owner.query(`alter table ${table} enable trigger user`);
  await owner.query('commit');
  expect(rowCount).toBeGreaterThan(0);
}

describe('the judge of storms finds what was sabotaged', () => {
  it(
    'and nothing where nothing was',
    async () => {
      expect(await findingsOf({ fault: 'answer swallowed' })).toEqual([]);
    },
    TIMEOUT_MS,
  );

  it(
    'a phone that lets go of what it sent when its line is cut',
    async () => {
      const found = await findingsOf({ plant: () => ({ seams: forgetting }), fault: 'request dropped' });
      expect(found.join('\n')).toMatch(/was never answered/);
    },
    TIMEOUT_MS,
  );

  it(
    'a phone that takes a new client id whenever its line is cut',
    async () => {
      const found = await findingsOf({ plant: () => ({ seams: reissuing }), fault: 'answer swallowed' });
      expect(found.join('\n')).toMatch(/\d+ captures have \d+ receipts/);
    },
    TIMEOUT_MS,
  );

  it(
    'an invented answer to a push that never arrived',
    async () => {
      const found = await findingsOf({ plant: () => ({ seams: inventing }), fault: 'request dropped' });
      expect(found.join('\n')).toMatch(/was answered in two ways|was acknowledged as applied and has no receipt/);
    },
    TIMEOUT_MS,
  );

  it(
    'a store that writes the cursor before the rows, on a phone that dies in between',
    async () => {
      let office = (): StormWorld['phones'][number]['sim'] | undefined => undefined;
      const bug = cursorFirst(() => office());
      const found = await findingsOf({
        plant: (at) => (at === 0 ? { seams: bug.seams } : {}),
        happened: (world) => {
          office = () => world.phones[0]?.sim;
          return bug.deaths() > 0;
        },
      });
      expect(found.join('\n')).toMatch(/no row is missed: phone 0/);
    },
    TIMEOUT_MS,
  );

  it.runIf(LONG)(
    'a follower that asks for the tails before it listens',
    async () => {
      const reader = new EarlyReader();
      const found = await findingsOf({
        patienceMs: 1_500,
        after: async ({ phones: [office, crew] }) => {
          if (!office || !crew) throw new Error('there are no phones');
          office.follower?.stop();
          office.follower = reader;
          await reader.ask(office);
          await crew.sim.client.record('crew', { name: 'East crew' }).catch(() => undefined);
          crew.wake();
          const working = crew.work(10);
          await sleep(300);
          crew.rest();
          await working;
          await reader.listen(office);
        },
      });
      expect(found.join('\n')).toMatch(/nothing wedges: .*phone 0 was told \d+ of event:\S+, not \d+/);
    },
    TIMEOUT_MS,
  );

  it(
    'receipts that vanished',
    async () => {
      const found = await findingsOf({
        after: (world) => behindTheGuards(world, 'receipt', 'delete from receipt where firm = $1 and mutation = 2'),
      });
      expect(found.join('\n')).toMatch(/was acknowledged as \w+ and has no receipt/);
    },
    TIMEOUT_MS,
  );

  it.runIf(LONG)(
    'a row of the ledger that somebody wrote anew',
    async () => {
      const statement = `update ledger set state = replace(state::text, 'value', 'other')::json
      where firm = $1 and state::text like '%value%'`;
      const found = await findingsOf({ after: (world) => behindTheGuards(world, 'ledger', statement) });
      expect(found.join('\n')).toMatch(/another history hash/);
      expect(found.join('\n')).toMatch(/convergence: phone 0 and the ledger differ/);
    },
    TIMEOUT_MS,
  );

  it.runIf(LONG)(
    'what was set aside and is kept in other words',
    async () => {
      const statement = `update set_aside set raw = raw || ' '::bytea where firm = $1`;
      const poison = async (world: StormWorld) => behindTheGuards(world, 'set_aside', statement);
      const happened = (world: StormWorld) => world.history.all().some(({ told }) => told?.outcome === 'set_aside');
      const found = await findingsOf({ happened, after: poison });
      expect(found.join('\n')).toMatch(/was set aside and is not kept to the byte/);
    },
    TIMEOUT_MS,
  );

  it.runIf(LONG).each([
    ['was forgotten within a transaction', 'begin', /idle in transaction/],
    ['has the lock of a firm and does not give it back', 'select pg_advisory_lock(1, 2)', /pg_advisory_lock/],
  ])(
    'a session that %s',
    async (_what, statement, said) => {
      const found = await findingsOf({
        patienceMs: 800,
        after: async ({ options }) => {
          const client = await options.db.pool.connect();
          await client.query(statement);
          // the pool ends with it: nobody gives it back before
          void sleep(1_500).then(() => client.release(true));
        },
      });
      expect(found.join('\n')).toMatch(said);
    },
    TIMEOUT_MS,
  );
});
