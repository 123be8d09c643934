import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';

const migrations = path.join(import.meta.dirname, '../fixtures/migrations/gauge');
let one: TestDatabase;
let other: TestDatabase;

beforeAll(async () => {
  [one, other] = await Promise.all([testDatabase({ migrations }), testDatabase({ migrations })]);
});
afterAll(async () => {
  await Promise.all([one.drop(), other.drop()]);
});

test('two test databases have the migrated tables and do not see each other', async () => {
  await one.pool.query("insert into gauge (id, firm) values (1, 'a')");
  expect((await one.bypass.query('select * from gauge')).rows).toHaveLength(1);
  expect((await other.bypass.query('select * from gauge')).rows).toHaveLength(0);
});

test('the application sees only its own firm, the bypass role every firm', async () => {
  const client = await other.pool.connect();
  await client.query("select set_config('wellround.firm', 'b', false)");
  await other.bypass.query("insert into gauge (id, firm) values (1, 'a'), (2, 'b')");
  expect((await client.query('select id from gauge')).rows).toEqual([{ id: 2 }]);
  client.release(true);
});

test('the owner may change the schema and the application may not', async () => {
  const owner = await one.owner();
  expect((await owner.query('select current_user as name')).rows).toEqual([{ name: 'wellround_owner' }]);
  await owner.query('create table extra (id int)');
  await expect(one.pool.query('create table more (id int)')).rejects.toThrow(/permission denied/);
});
