import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { QUERY_LIMITS } from '../../../src/protocol/limits.ts';
import { statementsOf } from '../../reads/statements.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';

let t: TestApp;
let url: string;

beforeAll(async () => {
  t = await testApp();
  url = await t.app.listen({ port: 0, host: '127.0.0.1' });
});
afterAll(() => t.close());

async function post(query: string, signal?: AbortSignal): Promise<Response> {
  const authorization = `Bearer ${await t.token('coordinator')}`;
  const headers = { authorization, 'content-type': 'application/json' };
  const body = JSON.stringify({ query });
  return fetch(`${url}/graphql`, { method: 'POST', headers, body, ...(signal ? { signal } : {}) });
}

/** Runs with a pool whose next connections are given out only after a while; who asks is looked up before that. */
async function withSlowPool<Result>(delayMs: number, work: () => Promise<Result>): Promise<Result> {
  const pool = t.db.pool as unknown as { connect: (...args: unknown[]) => Promise<unknown> };
  const { connect } = pool;
  let asked = 0;
  pool.connect = async (...args) => {
    // the token of the test, and its look-up, come first
    if (++asked > 2) await sleep(delayMs);
    return connect.apply(pool, args);
  };
  try {
    return await work();
  } finally {
    pool.connect = connect;
  }
}

describe('GraphQL over a real connection', () => {
  it('answers: a body that was read to its end is no lost connection', async () => {
    const response = await post(`{ event(id: "${t.firm.ids.event}") { name } }`);
    expect(await response.json()).toEqual({ data: { event: { name: 'Spring round' } } });
  });

  it('reads nothing more for a client that has gone', async () => {
    const { sent } = await statementsOf(() =>
      withSlowPool(300, async () => {
        const gone = new AbortController();
        const asked = post('{ crews { totalCount nodes { name } } }', gone.signal).catch(() => 'gone');
        await sleep(150);
        gone.abort();
        expect(await asked).toBe('gone');
        await sleep(400);
      }),
    );
    expect(sent.filter((text) => text.includes('"crew"'))).toEqual([]);
    expect(t.db.pool.idleCount).toBe(t.db.pool.totalCount);
  });

  it.runIf(process.env.LONG)('gives up an answer that takes too long', { timeout: 40_000 }, async () => {
    await withSlowPool(QUERY_LIMITS.timeMs + 4_000, async () => {
      const began = performance.now();
      const response = await post('{ crews { totalCount } }');
      expect([response.status, response.headers.get('retry-after')]).toEqual([503, '1']);
      expect(await response.json()).toMatchObject({ errors: [{ extensions: { code: 'busy', limit: 'timeMs' } }] });
      expect(performance.now() - began).toBeLessThan(QUERY_LIMITS.timeMs + 2_000);
      await sleep(5_000);
    });
    expect(t.db.pool.idleCount).toBe(t.db.pool.totalCount);
  });
});
