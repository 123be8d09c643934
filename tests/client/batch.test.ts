import fc from 'fast-check';
import { expect, it } from 'vitest';
import { nextBatch } from '../../src/client/batch.ts';
import { citing } from '../../src/client/cited-feeds.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import type { Change, OutboxEntry } from '../../src/client/store.ts';
import { LIMITS } from '../../src/protocol/limits.ts';
import type { RecordState } from '../../src/protocol/record.ts';

function entry(mutationId: number, answered: boolean, bytes = 10): OutboxEntry {
  return {
    client: 'ours',
    mutationId,
    sequence: mutationId,
    captured: '2026-05-04T10:00:00-05:00',
    kind: 'reading',
    id: `id-${mutationId}`,
    line: 'x'.repeat(bytes),
    was: null,
    outcome: answered ? { mutationId, outcome: 'applied' } : null,
    dismissed: false,
  };
}

const RECORD: RecordState = {
  kind: 'visit',
  id: '',
  rev: 1,
  voided: null,
  by: null,
  client: null,
  mutation: null,
  reason: null,
  clock: null,
  fields: {},
};

const outbox = fc
  .array(fc.record({ kept: fc.boolean(), answered: fc.boolean(), bytes: fc.constantFrom(1, 300, 65_536) }), {
    maxLength: 30,
  })
  .map((plan) => plan.flatMap(({ kept, answered, bytes }, at) => (kept ? [entry(at + 1, answered, bytes)] : [])));

it('begins at the first unanswered line, has no gap, ends with an unanswered one and fits', () => {
  fc.assert(
    fc.property(outbox, fc.integer({ min: 1, max: 500 }), (entries, maxLines) => {
      const batch = nextBatch(entries, 'ours', maxLines);
      const unanswered = entries.filter(({ outcome }) => outcome === null).map(({ mutationId }) => mutationId);
      if (!batch) {
        expect(unanswered).toEqual([]);
        return;
      }
      const numbers = batch.entries.map(({ mutationId }) => mutationId);
      expect(batch.first).toBe(Math.min(...unanswered));
      expect(numbers).toEqual(numbers.map((_, at) => batch.first + at));
      expect(batch.entries.at(-1)?.outcome).toBeNull();
      expect(numbers.length).toBeLessThanOrEqual(maxLines);
    }),
  );
});

it('stays below the bytes of a body, counting characters as they travel', () => {
  const wide = Array.from({ length: 400 }, (_, at) => ({ ...entry(at + 1, false), line: 'é'.repeat(30_000) }));
  const batch = nextBatch(wide, 'ours', LIMITS.pushMutations);
  expect(batch?.entries).toHaveLength(139);
  expect(139 * 60_001 + 4_096).toBeLessThan(LIMITS.pushBytes);
  expect(140 * 60_001 + 4_096).toBeGreaterThan(LIMITS.pushBytes);
});

it('offers nothing of a client id that was given up', () => {
  expect(nextBatch([{ ...entry(1, false), client: 'former' }], 'ours', 10)).toBeNull();
});

it('[B9] of a push names no more histories than its header has room for, and leaves the other lines for the next', async () => {
  const store = memoryStore();
  const feeds = Array.from({ length: 9 }, (_, at) => `event:${at}`);
  const state = { seq: 1, count: 1, contentHash: '0'.repeat(16), complete: true };
  const record = (id: string) => ({ ...RECORD, id });
  await store.commit(
    feeds.flatMap((feed, at): Change[] => [
      { put: 'feed', state: { feed, cursor: `cursor of ${feed}`, ...state } },
      { put: 'record', stored: { feed, seq: 1, hash: '0'.repeat(16), record: record(`id-${at + 1}`) } },
    ]),
  );
  const line = (at: number) =>
    JSON.stringify({ mutationId: at, verb: 'amend', kind: 'visit', id: `id-${at}`, base: { rev: 1 }, set: {} });
  const entries = feeds.map((_, at) => ({ ...entry(at + 1, false), line: line(at + 1) }));
  const all = { first: 1, schemaVersion: 3, entries };
  const { entries: first, seen } = await citing(store, all);
  expect([first.length, seen]).toEqual([8, feeds.slice(0, 8).map((feed) => `cursor of ${feed}`)]);
  const rest = await citing(store, { ...all, first: 9, entries: entries.slice(8) });
  expect(rest).toMatchObject({ first: 9, seen: ['cursor of event:8'] });
  const answered = entries.map((one) => ({
    ...one,
    outcome: { mutationId: one.mutationId, outcome: 'applied' as const },
  }));
  expect((await citing(store, { ...all, entries: answered })).seen).toEqual([]);
});
