import { describe, expect, it } from 'vitest';
import { toldEntry } from '../../../src/documents/history/told-entry.ts';
import { HistoryTelling, type LedgerFact } from '../../../src/rules/record-history/history-entry.ts';

const clock = {
  wall: '2026-05-04T09:12:00-05:00',
  monotonicMs: 1_000,
  boot: 'b-1',
  sequence: 1,
  differenceMs: 0,
  uncertaintyMs: 0,
};

const fact: LedgerFact = {
  feed: 'event:e-1',
  seq: 7,
  kind: 'container',
  id: 'b-1',
  rev: 2,
  receivedAt: '2026-05-04T20:00:00.000Z',
  client: 'phone',
  mutation: 3,
  clock,
  decision: null,
  text: null,
  historyHashBefore: '0'.repeat(64),
  historyHash: 'a'.repeat(64),
};

describe('an entry of a history as it is given out', () => {
  it('is the row with what it did: without its text and the clock of its device', () => {
    const told = toldEntry({ ...new HistoryTelling().entry(fact), names: new Map(), device: null });
    expect(Object.keys(told).toSorted()).toEqual(
      [
        ...['act', 'by', 'byName', 'changes', 'client', 'decision', 'device', 'feed', 'historyHash'],
        ...['historyHashBefore', 'id', 'kind', 'mutation', 'reason', 'receivedAt', 'rev', 'seq'],
      ].toSorted(),
    );
  });
});
