import { v7 } from 'uuid';
import type { CarriedEntry, Change, FeedState, Identity, OutboxEntry, StoredRecord } from '../../src/client/store.ts';

export const FEED = 'event:one';

export function storedRecord(at: number, feed = FEED, rev = 1): StoredRecord {
  const none = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  const id = `00000000-0000-7000-8000-${String(at).padStart(12, '0')}`;
  const fields = { ph: `7.${at}`, remark: 'clear, no odour; µS/cm \u{1F4A7}' };
  return { feed, seq: at, hash: '00', record: { kind: at % 4 === 0 ? 'purge' : 'reading', id, rev, ...none, fields } };
}

export function feedState(seq: number, feed = FEED): FeedState {
  return { feed, cursor: `cursor-${seq}`, seq, count: seq, contentHash: '00', complete: true };
}

export const CLIENT = '018f0000-0000-7000-8000-000000000001';

export function identity(nextMutation: number, client = CLIENT): Identity {
  return { client, nextMutation, sequence: nextMutation - 1, person: null, epoch: null, durable: 0 };
}

export function entry(mutationId: number, client = CLIENT): OutboxEntry {
  const line = JSON.stringify({ mutationId, verb: 'record', kind: 'reading', id: v7(), set: { ph: '7.10' } });
  const captured = '2026-05-04T10:00:00-05:00';
  const rest = { sequence: mutationId, captured, kind: 'reading', id: v7(), was: null };
  return { client, mutationId, line, ...rest, outcome: null, dismissed: false };
}

export function carried(mutationId: number): CarriedEntry {
  const { client, captured, line, outcome } = entry(mutationId, '018f0000-0000-7000-8000-00000000000c');
  return { client, mutationId, captured, line, outcome };
}

/** A capture: the line and the number that it uses up. */
export function captured(mutationId: number): Change[] {
  return [
    { put: 'entry', entry: entry(mutationId) },
    { put: 'identity', identity: identity(mutationId + 1) },
  ];
}

/** A page of a feed: its rows and the cursor after them. */
export function page(from: number, to: number, feed = FEED): Change[] {
  const rows = Array.from({ length: to - from + 1 }, (_, at) => storedRecord(from + at, feed));
  return [...rows.map((stored): Change => ({ put: 'record', stored })), { put: 'feed', state: feedState(to, feed) }];
}
