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

async function backUp(at: number): Promise<void> {
  const owner = await test.db.owner();
  await owner.query('update installation set durable_before = $1', [new Date(at).toISOString()]);
}

it('a push is answered with the last mutation that was in a backup before it', async () => {
  expect(await push(1, 3)).toBe(0);
  test.firm.nowMs += 60_000;
  await backUp(test.firm.nowMs - 30_000);
  expect(await push(4, 2)).toBe(3);
  test.firm.nowMs += 60_000;
  expect(await push(6, 1)).toBe(3);
  await backUp(test.firm.nowMs - 30_000);
  expect(await push(7, 1)).toBe(5);
});
