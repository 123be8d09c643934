import { afterAll, beforeAll, expect, it } from 'vitest';
import { inWrite } from '../../src/store/write/transaction.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

it('a statement of a write is planned without its values, however seldom it ran', async () => {
  const firm = new TestFirm(db.pool);
  await firm.setUp();
  const plans = await inWrite(db.pool, firm.id, async ({ client }) => {
    const query = { name: 'one-of-a-write', text: 'select id from unit where firm = $1 and id = any($2::uuid[])' };
    await client.query({ ...query, values: [firm.id, []] });
    const text = `select generic_plans::int as generic, custom_plans::int as custom from pg_prepared_statements where name = $1`;
    return (await client.query(text, [query.name])).rows;
  });
  expect(plans).toEqual([{ generic: 1, custom: 0 }]);
});
