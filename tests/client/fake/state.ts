import { canonicalText, NO_ROWS, rowHash, xorHash } from '../../../src/protocol/content-hash.ts';
import { kindNamed } from '../../../src/protocol/kinds-by-name.ts';
import type { Outcome } from '../../../src/protocol/mutation.ts';
import type { RecordState } from '../../../src/protocol/record.ts';

/** Who gave a field its value last. */
export interface Writer {
  readonly rev: number;
  readonly client: string | null;
  readonly value: unknown;
}

export interface Held {
  feed: string;
  record: RecordState;
  writers: Record<string, Writer>;
}

export interface LogRow {
  readonly seq: number;
  readonly kind: string;
  readonly id: string;
  /** Null: it left the feed. */
  readonly record: RecordState | null;
}

export interface Receipts {
  readonly lines: string[];
  readonly outcomes: Outcome[];
  readonly seen: number[];
}

/** All that the fake server remembers, as plain data, so that it can be copied and set back. */
export interface State {
  epoch: string;
  readonly records: Record<string, Held>;
  readonly logs: Record<string, LogRow[]>;
  readonly receipts: Record<string, Receipts>;
  waiting: { readonly client: string; readonly line: string }[];
  /** How many mutations had an effect: each must have one, however often it is sent. */
  effects: Record<string, number>;
}

export function emptyState(epoch: string): State {
  return { epoch, records: {}, logs: {}, receipts: {}, waiting: [], effects: {} };
}

export function tailOf(state: State, feed: string): number {
  return state.logs[feed]?.length ?? 0;
}

export function append(state: State, feed: string, row: Omit<LogRow, 'seq'>): number {
  const log = state.logs[feed] ?? [];
  state.logs[feed] = log;
  log.push({ ...row, seq: log.length + 1 });
  return log.length;
}

/** Eight bytes that stand for everything up to a seq. */
export function historyHash(state: State, feed: string, seq: number): string {
  return (state.logs[feed] ?? []).slice(0, seq).reduce((hash, row) => rowHash(`${hash}${canonicalText(row)}`), NO_ROWS);
}

export function liveOf(state: State, feed: string): RecordState[] {
  return Object.values(state.records).flatMap((held) => (held.feed === feed ? [held.record] : []));
}

export function tallyOf(records: readonly RecordState[]): { count: number; contentHash: string } {
  const contentHash = records.reduce((hash, record) => xorHash(hash, rowHash(canonicalText(record))), NO_ROWS);
  return { count: records.length, contentHash };
}

/** The feed in which a record with these fields lives; null while the record that it hangs on is not here. */
export function feedFor(state: State, kind: string, id: string, fields: RecordState['fields']): string | null {
  const home = kindNamed(kind)?.home;
  if (!home || home.in === 'firm') return 'firm';
  if (home.in === 'own') return `${home.prefix}:${id}`;
  const parent = state.records[String(fields[home.field])];
  return parent ? feedFor(state, parent.record.kind, parent.record.id, parent.record.fields) : null;
}
