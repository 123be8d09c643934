import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';

let test: TestApp;
let token: string;
const client = randomUUID();

beforeAll(async () => {
  test = await testApp();
  token = await test.token('admin');
});

afterAll(() => test?.close());

/** Pushes so many crews under the next numbers of the client. @returns up to which it may forget what it keeps */
async function push(first: number, count: number): Promise<number> {
  const lines = Array.from({ length: count }, (_, index) => {
    const set = { name: `Crew ${first + index}` };
    return JSON.stringify({ mutationId: first + index, verb: 'record', kind: 'crew', id: randomUUID(), set });
  });
  const payload = `${[JSON.stringify({ client, schemaVersion: 1, first, count }), ...lines].join('\n')}\n`;
  const headers = { authorization: `Bearer ${token}`, 'content-type': 'application/x-ndjson' };
  const answer = await test.app.inject({ method: 'POST', url: '/v1/sync/push', headers, payload });
  expect(answer.statusCode).toBe(200);
  const { durable, lastMutation } = answer.json() as { durable: number; lastMutation: number };
  expect(lastMutation).toBe(first + count - 1);
  return durable;
}

/** @returns what tells the client that everything up to now is in a backup */
async function backUp(): Promise<() => Promise<unknown>> {
  const { rows } = await test.db.bypass.query('select last_mutation as last from client where id = $1', [client]);
  return () => test.db.bypass.query('update client set durable = $1 where id = $2', [rows[0]?.last, client]);
}

it('a push is answered with the last mutation that was in a backup before it, whatever the clocks say', async () => {
  expect(await push(1, 3)).toBe(0);
  test.firm.nowMs -= 3_600_000;
  const first = await backUp();
  expect(await push(4, 2)).toBe(0);
  await first();
  expect(await push(6, 1)).toBe(3);
  await (await backUp())();
  test.firm.nowMs += 7_200_000;
  expect(await push(7, 1)).toBe(6);
});
