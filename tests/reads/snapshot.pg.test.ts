import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Snapshot } from '../../src/reads/snapshot.ts';
import type { ReadTx } from '../../src/store/read/transaction.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';
import { statementsOf } from './statements.ts';

let db: TestDatabase;
let firm: TestFirm;

beforeAll(async () => {
  db = await testDatabase({ poolSize: 2 });
  firm = new TestFirm(db.pool);
  await firm.setUp();
});
afterAll(() => db.drop());

const crews = async ({ client }: ReadTx) => (await client.query('select name from crew')).rows.length;
const addCrew = async () => (await firm.client('admin')).push({ kind: 'crew', set: { name: 'East crew' } });
/** Every connection of the pool is free again. */
const allIdle = () => expect(db.pool.idleCount).toBe(db.pool.totalCount);

describe('the snapshot of a request', () => {
  it('is opened by the first read and not before', async () => {
    const { sent } = await statementsOf(async () => {
      const snapshot = new Snapshot(db.pool, firm.id);
      await snapshot.renew();
      await snapshot.close();
    });
    expect(sent).toEqual([]);
  });

  it('shows one state of the firm, until it is renewed', async () => {
    const snapshot = new Snapshot(db.pool, firm.id);
    expect(await snapshot.read(crews)).toBe(2);
    await addCrew();
    expect(await snapshot.read(crews)).toBe(2);
    await snapshot.renew();
    expect(await snapshot.read(crews)).toBe(3);
    await snapshot.close();
    allIdle();
  });

  it('reads one after the other on one connection, and shows nothing of another firm', async () => {
    const snapshot = new Snapshot(db.pool, '00000000-0000-4000-8000-000000000000');
    const seen = new Set<unknown>();
    const counts = await Promise.all(
      Array.from({ length: 5 }, () =>
        snapshot.read(async (tx) => {
          seen.add(tx.client);
          return crews(tx);
        }),
      ),
    );
    expect(counts).toEqual([0, 0, 0, 0, 0]);
    expect(seen.size).toBe(1);
    await snapshot.close();
    allIdle();
  });

  it('gives its connection back after a statement that failed', async () => {
    const snapshot = new Snapshot(db.pool, firm.id);
    await expect(snapshot.read(({ client }) => client.query('select 1 / 0'))).rejects.toThrow(/division/);
    await expect(snapshot.read(crews)).rejects.toThrow(pg.DatabaseError);
    await snapshot.close();
    allIdle();
    expect((await db.pool.query('select 1 as one')).rows).toEqual([{ one: 1 }]);
  });

  it('does not begin a read once the request is over, and waits for the one under way', async () => {
    const snapshot = new Snapshot(db.pool, firm.id);
    const slow = snapshot.read(({ client }) => client.query('select pg_sleep(0.3)'));
    const queued = snapshot.read(crews);
    await sleep(100);
    const closed = snapshot.close();
    await expect(queued).rejects.toMatchObject({ code: 'busy' });
    await closed;
    expect((await slow).rowCount).toBe(1);
    await expect(snapshot.read(crews)).rejects.toMatchObject({ code: 'busy' });
    allIdle();
  });

  it('says that no connection was to be had, and leaves none behind', async () => {
    const none = new pg.Pool({ ...db.config, host: '/nowhere', port: 1, connectionTimeoutMillis: 500 });
    const snapshot = new Snapshot(none, firm.id);
    await expect(snapshot.read(crews)).rejects.toThrow();
    await snapshot.close();
    expect(none.totalCount).toBe(0);
    await none.end();
  });
});
