import { fastify } from 'fastify';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { limitRate } from '../../../src/doors/rest/rate-limit.ts';

const HOUR_MS = 3_600_000;
const START_MS = Date.parse('2026-05-04T12:00:00Z');

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['Date', 'performance'], now: START_MS });
});
afterEach(() => {
  vi.useRealTimers();
});

async function limited(perMinute: number) {
  const app = fastify();
  limitRate(app, perMinute);
  app.after(() => void app.get('/', () => 'here'));
  await app.ready();
  return async () => {
    const { headers } = await app.inject({ url: '/' });
    return { left: Number(headers['ratelimit-remaining']), again: Number(headers['retry-after']) };
  };
}

it('begins anew after a minute', async () => {
  const ask = await limited(2);
  expect(await ask()).toMatchObject({ left: 1 });
  expect(await ask()).toMatchObject({ left: 0 });
  vi.advanceTimersByTime(20_000);
  expect(await ask()).toEqual({ left: 0, again: 40 });
  vi.advanceTimersByTime(40_000);
  expect(await ask()).toMatchObject({ left: 1 });
});

it('counts by minutes that pass, whatever the clock of the server does', async () => {
  const ask = await limited(2);
  await ask();
  vi.setSystemTime(START_MS - 5 * HOUR_MS);
  expect(await ask()).toMatchObject({ left: 0 });
  expect(await ask()).toEqual({ left: 0, again: 60 });
  vi.advanceTimersByTime(60_000);
  expect(await ask()).toMatchObject({ left: 1 });
});

it('remembers so many at most, and forgets who has not asked for longest', async () => {
  const app = fastify({ trustProxy: true });
  limitRate(app, 9);
  app.after(() => void app.get('/', () => 'here'));
  await app.ready();
  const ask = async (at: number) => {
    const headers = { 'x-forwarded-for': `10.${at >> 16}.${(at >> 8) & 255}.${at & 255}` };
    return Number((await app.inject({ url: '/', headers })).headers['ratelimit-remaining']);
  };
  expect([await ask(1), await ask(2), await ask(1)]).toEqual([8, 8, 7]);
  for (let at = 3; at <= 20_001; at++) await ask(at);
  expect([await ask(1), await ask(2)]).toEqual([6, 8]);
}, 60_000);
