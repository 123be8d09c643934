import fc from 'fast-check';
import { expect, it } from 'vitest';
import { nextBatch } from '../../src/client/batch.ts';
import type { OutboxEntry } from '../../src/client/store.ts';
import { LIMITS } from '../../src/protocol/limits.ts';

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
