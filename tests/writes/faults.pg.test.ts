import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type Lane, openLane } from '../../src/writes/lane.ts';
import { type Between, faultyPool, InjectedFault } from '../support/faulty-pool.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, TestClient, TestFirm } from '../support/test-firm.ts';
import { purgeDrafts, visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let client: TestClient;
let before: Between;
let lane: Lane;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
  const pool = faultyPool(db.pool, (statement, connection) => before(statement, connection));
  lane = openLane({ pool, now: () => new Date(firm.nowMs), committed: () => undefined });
});
beforeEach(async () => {
  client = new TestClient((await firm.client('crew', firm.ids.phone)).actor, lane);
});
afterAll(() => db.drop());

/** Does something before a statement of the first so many transactions. */
function first(times: number, statement: string, act: Between): Between {
  let left = times;
  return async (text, connection) => {
    if (!text.startsWith(statement) || left === 0) return;
    left--;
    await act(text, connection);
  };
}

async function stored(): Promise<unknown> {
  const text = `select (select count(*) from receipt where client = $1) as receipts,
  (select count(*) from set_aside where client = $1) as kept, (select count(*) from client where id = $1) as clients`;
  return (await db.bypass.query(text, [client.id])).rows[0];
}

const raised = (code: string): Between => {
  return (_text, connection) =>
    connection
      .query(`do $$ begin raise exception 'made for a test' using errcode = '${code}'; end $$`)
      .then(() => undefined);
};

/** A role may end the connections of its own. */
const killed: Between = async (_text, connection) => {
  const { rows } = await connection.query<{ pid: number }>('select pg_backend_pid() as pid');
  await db.pool.query('select pg_terminate_backend($1)', [rows[0]?.pid]);
  await sleep(20);
};

const TRANSIENT = [
  ['a serialization failure', raised('40001')],
  ['a deadlock', raised('40P01')],
  ['a lock that was not to be had', raised('55P03')],
  ['a statement that was cancelled', raised('57014')],
  ['too many connections', raised('53300')],
] as const;

describe('a fault that will pass', () => {
  it.each(TRANSIENT)('[W14] is tried again, and never stored as an outcome: %s', async (_what, act) => {
    before = first(2, 'insert into ledger', act);
    const outcomes = await client.push(...purgeDrafts(firm).drafts);
    expect(outcomes.map((one) => one.outcome)).toEqual(Array(6).fill('applied'));
    expect(await stored()).toEqual({ receipts: 6, kept: 0, clients: 1 });
  });

  it.each(TRANSIENT)('[W14] is thrown where it does not pass, and nothing is stored: %s', async (_what, act) => {
    before = first(-1, 'insert into ledger', act);
    const { drafts } = visitDrafts(firm);
    const lines = drafts.map((draft) => client.line(draft));
    await expect(lane(batchOf(client.actor, client.id, 1, lines))).rejects.toThrow('made for a test');
    expect(await stored()).toEqual({ receipts: 0, kept: 0, clients: 0 });
    before = () => undefined;
    expect(await lane(batchOf(client.actor, client.id, 1, lines))).toMatchObject({ status: 'answered', repeated: 0 });
  });

  it('[W14] is tried again where the connection is killed in the middle', async () => {
    before = first(1, 'insert into ledger', killed);
    const outcomes = await client.push(...purgeDrafts(firm).drafts);
    expect(outcomes.map((one) => one.outcome)).toEqual(Array(6).fill('applied'));
    expect(await stored()).toEqual({ receipts: 6, kept: 0, clients: 1 });
  });

  it('[W14] is thrown where every connection is killed, and the pool is none the worse for it', async () => {
    before = first(-1, 'insert into ledger', killed);
    const lines = visitDrafts(firm).drafts.map((draft) => client.line(draft));
    await expect(lane(batchOf(client.actor, client.id, 1, lines))).rejects.toThrow();
    expect(await stored()).toEqual({ receipts: 0, kept: 0, clients: 0 });
    before = () => undefined;
    expect(await lane(batchOf(client.actor, client.id, 1, lines))).toMatchObject({ status: 'answered' });
  });
});

describe('a fault of ours', () => {
  it('[W14] is thrown and leaves nothing behind', async () => {
    before = first(1, 'commit', () => {
      throw new InjectedFault('made for a test');
    });
    const lines = visitDrafts(firm).drafts.map((draft) => client.line(draft));
    await expect(lane(batchOf(client.actor, client.id, 1, lines))).rejects.toThrow('made for a test');
    expect(await stored()).toEqual({ receipts: 0, kept: 0, clients: 0 });
  });

  it('[W9] in one push is answered to that one alone, not to those that share its transaction', async () => {
    const clients = await Promise.all([1, 2, 3, 4].map(() => firm.client('crew', firm.ids.phone)));
    const [poison, ...others] = clients.map((one) => new TestClient(one.actor, lane));
    let open = (): void => undefined;
    const gate = new Promise<void>((resolve) => {
      open = resolve;
    });
    before = first(1, 'commit', () => gate);
    const busy = client.push(...purgeDrafts(firm).drafts);
    await sleep(50);
    before = async (text, connection) => {
      if (text !== 'commit') return;
      const asked = 'select count(*) as n from receipt where client = $1';
      const { rows } = await connection.query<{ n: number }>(asked, [poison?.id]);
      if ((rows[0]?.n ?? 0) > 0) throw new InjectedFault('made for a test');
    };
    const pushes = [poison, ...others].map((one) => one?.push(...visitDrafts(firm).drafts));
    open();
    await busy;
    const ends = await Promise.allSettled(pushes);
    expect(ends.map((end) => end.status)).toEqual(['rejected', 'fulfilled', 'fulfilled', 'fulfilled']);
  });
});

describe('what was written', () => {
  it.each(['ledger', 'receipt'])(
    '[W15] is not changed, deleted or emptied in %s, by its owner either',
    async (table) => {
      before = () => undefined;
      await client.push(...visitDrafts(firm).drafts);
      const owner = await db.owner();
      const count = async () => (await db.bypass.query(`select count(*) from ${table}`)).rows[0];
      const all = await count();
      await owner.query(`select set_config('wellround.firm', $1, false)`, [firm.id]);
      const column = table === 'ledger' ? 'rev = rev + 1' : `outcome = ''`;
      for (const text of [`update ${table} set ${column}`, `delete from ${table}`, `truncate ${table}`]) {
        await expect(owner.query(text)).rejects.toThrow(/append-only/);
      }
      await expect(db.bypass.query(`delete from ${table}`)).rejects.toThrow(/append-only/);
      const connection = await db.pool.connect();
      await connection.query(`select set_config('wellround.firm', $1, false)`, [firm.id]);
      await expect(connection.query(`delete from ${table}`)).rejects.toThrow(/permission denied/);
      await connection.query('reset all');
      connection.release();
      expect(await count()).toEqual(all);
    },
  );
});
