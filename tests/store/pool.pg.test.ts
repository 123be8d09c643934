import { afterAll, beforeAll, expect, it } from 'vitest';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

it('every connection has its limits, and compiles no plan whatever the server is set to', async () => {
  const show = async (name: string) => Object.values((await db.pool.query(`show ${name}`)).rows[0])[0];
  expect(await Promise.all(['jit', 'statement_timeout', 'timezone'].map(show))).toEqual(['off', '15s', 'UTC']);
});
