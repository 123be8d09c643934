import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../support/test-app.ts';

const MORE_THAN_FIT = 300;

let t: TestApp;
let port: number;

beforeAll(async () => {
  t = await testApp();
  port = Number(new URL(await t.app.listen({ port: 0, host: '127.0.0.1' })).port);
});
afterAll(() => t.close());

/** Asks, and is gone before the token can have been looked up. */
function askAndLeave(token: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () => {
      socket.write(`GET /v1/me HTTP/1.1\r\nhost: here\r\nauthorization: Bearer ${token}\r\n\r\n`, () =>
        socket.destroy(),
      );
    });
    socket.on('close', () => resolve());
    socket.on('error', reject);
  });
}

describe('requests in work', () => {
  it('are not counted any more once their client has gone, however early it went', async () => {
    for (let index = 0; index < MORE_THAN_FIT; index++) await askAndLeave(`wrt_unknown_${index}`);
    const authorization = `Bearer ${await t.token('crew')}`;
    const response = await fetch(`http://127.0.0.1:${port}/v1/me`, { headers: { authorization } });
    expect(response.status).toBe(200);
  });
});
