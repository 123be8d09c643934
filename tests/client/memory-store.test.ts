import { expect, it } from 'vitest';
import { memoryStore } from '../../src/client/memory-store.ts';
import { oneAtATime } from '../../src/client/one-at-a-time.ts';
import type { StoredRecord } from '../../src/client/store.ts';

function stored(feed: string, id: string, rev = 1): StoredRecord {
  const none = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  return { feed, seq: rev, hash: '00', record: { kind: 'crew', id, rev, ...none, fields: {} } };
}

it('holds a record once for each feed, and drops a feed with its rows and its cursor', async () => {
  const store = memoryStore();
  const state = { feed: 'a', cursor: 'c', seq: 1, count: 1, contentHash: '00', complete: true };
  await store.commit([
    { put: 'record', stored: stored('a', 'x') },
    { put: 'record', stored: stored('b', 'x', 2) },
    { put: 'record', stored: stored('a', 'y') },
    { put: 'feed', state },
  ]);
  expect((await store.copies('x')).map(({ feed }) => feed).sort()).toEqual(['a', 'b']);
  expect(await store.held('a', ['y', 'z', 'x'])).toHaveLength(2);
  expect(await store.recordsOfKind('crew')).toHaveLength(3);
  await store.commit([{ drop: 'record', feed: 'a', id: 'y' }]);
  expect(await store.recordsOfFeed('a')).toHaveLength(1);
  await store.commit([{ drop: 'feed', feed: 'a' }]);
  expect([await store.recordsOfFeed('a'), await store.feeds()]).toEqual([[], []]);
  expect(await store.recordsOfFeed('b')).toHaveLength(1);
});

it('runs work one at a time and in order; a failure is its own', async () => {
  const exclusive = oneAtATime();
  const log: string[] = [];
  const work = (name: string, fails: boolean) => async () => {
    log.push(`${name} begins`);
    await new Promise((done) => setTimeout(done, 1));
    log.push(`${name} ends`);
    if (fails) throw new Error(name);
    return name;
  };
  const results = await Promise.allSettled([
    exclusive(work('a', false)),
    exclusive(work('b', true)),
    exclusive(work('c', false)),
  ]);
  expect(results.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
  expect(log).toEqual(['a begins', 'a ends', 'b begins', 'b ends', 'c begins', 'c ends']);
});
