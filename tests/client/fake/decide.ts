import { canonicalText } from '../../../src/protocol/content-hash.ts';
import type { Mutation, Outcome } from '../../../src/protocol/mutation.ts';
import { isUnreadable, readMutation } from '../../../src/protocol/read-mutation.ts';
import type { RecordState } from '../../../src/protocol/record.ts';
import { append, feedFor, type Held, type State, type Writer } from './state.ts';

export interface Decided {
  readonly outcome: Outcome;
  /** The revision that the writer had seen. */
  readonly seen: number;
  readonly waits: boolean;
}

type Seen =
  | NonNullable<Extract<Mutation['base'], { readonly rev: number }>>
  | { readonly was: Readonly<Record<string, unknown>> };

function same(a: unknown, b: unknown): boolean {
  return canonicalText(a ?? null) === canonicalText(b ?? null);
}

function seenOf(state: State, client: string, { base, id }: Mutation): Seen {
  if (!base) return { rev: 0 };
  if ('was' in base) return base;
  if ('after' in base) return { rev: state.receipts[client]?.seen[base.after - 1] ?? 0 };
  return base.rev > (state.records[id]?.record.rev ?? 0) ? { rev: 0 } : base;
}

function clashes(writer: Writer | undefined, client: string, field: string, value: unknown, seen: Seen): boolean {
  if (!writer || writer.client === client || same(writer.value, value)) return false;
  return 'was' in seen ? !same(writer.value, seen.was[field]) : writer.rev > (seen.under?.[field] ?? seen.rev);
}

function keepConflict(state: State, held: Held, field: string, kept: Writer, value: unknown): string {
  const id = `c0000000-0000-5000-8000-${String(Object.keys(state.records).length).padStart(12, '0')}`;
  const fields = {
    subjectKind: held.record.kind,
    subject: held.record.id,
    type: 'field',
    field,
    sentence: `${field} was given two values`,
    certainty: 'certain',
    shown: { value },
    kept: [{ value: kept.value }],
    standing: 'open',
  };
  const none = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  const record: RecordState = { kind: 'conflict', id, rev: 1, ...none, fields };
  state.records[id] = { feed: held.feed, record, writers: {} };
  append(state, held.feed, { kind: 'conflict', id, record });
  return id;
}

function aside(mutation: Mutation, code: string, waits: boolean): Decided {
  const { mutationId, kind, id } = mutation;
  return { outcome: { mutationId, outcome: 'set_aside', kind, id, code, setAside: id }, seen: 0, waits };
}

function stateAfter(old: RecordState | undefined, client: string, mutation: Mutation, set: RecordState['fields']) {
  const { kind, id, mutationId, verb, by = null, reason = null, clock } = mutation;
  const fields = Object.fromEntries(Object.entries({ ...old?.fields, ...set }).filter(([, value]) => value !== null));
  return {
    kind,
    id,
    rev: (old?.rev ?? 0) + 1,
    voided: verb === 'void' ? { reason: reason ?? '', by } : (old?.voided ?? null),
    by,
    client,
    mutation: mutationId,
    reason,
    clock: clock ? { ...clock, differenceMs: 0, uncertaintyMs: 0 } : null,
    fields,
  } satisfies RecordState;
}

/** What hangs on a visit that went to another event goes along. */
function followMoves(state: State): void {
  for (const held of Object.values(state.records)) {
    const { kind, id, fields } = held.record;
    const feed = held.record.client === null ? held.feed : feedFor(state, kind, id, fields);
    if (feed === null || feed === held.feed) continue;
    append(state, held.feed, { kind, id, record: null });
    held.feed = feed;
    held.record = { ...held.record, rev: held.record.rev + 1 };
    append(state, feed, { kind, id, record: held.record });
  }
}

function put(state: State, client: string, mutation: Mutation, set: RecordState['fields'], seen: Seen): Decided {
  const { mutationId, kind, id } = mutation;
  const old = state.records[id];
  const feed = old?.feed ?? feedFor(state, kind, id, set);
  if (feed === null) return aside(mutation, 'parent_missing', true);
  const record = stateAfter(old?.record, client, mutation, set);
  const held: Held = { feed, record, writers: { ...old?.writers } };
  const clashing = Object.keys(set).filter((field) => clashes(old?.writers[field], client, field, set[field], seen));
  for (const field of Object.keys(set)) held.writers[field] = { rev: record.rev, client, value: set[field] };
  state.records[id] = held;
  const seq = append(state, feed, { kind, id, record });
  const conflicts = clashing.map((field) => {
    const kept = old?.writers[field];
    return kept ? keepConflict(state, held, field, kept, set[field]) : '';
  });
  followMoves(state);
  const moved = 'rev' in seen && seen.rev < (old?.record.rev ?? 0) && old?.record.client !== client;
  const outcome = conflicts.length > 0 ? 'conflict_kept' : moved && old ? 'merged' : 'applied';
  const listed = conflicts.length > 0 ? { conflicts } : {};
  const home = state.records[id]?.feed ?? feed;
  const at = home === feed ? seq : (state.logs[home]?.findLast((row) => row.id === id)?.seq ?? seq);
  return {
    outcome: { mutationId, outcome, kind, id, rev: state.records[id]?.record.rev ?? 0, feed: home, seq: at, ...listed },
    seen: 'rev' in seen ? seen.rev : 0,
    waits: false,
  };
}

/** Decides one line. Small and separate from the real rules: enough to see whether a phone behaves. */
export function decideLine(state: State, client: string, mutationId: number, line: string): Decided {
  const read = readMutation(line);
  if (isUnreadable(read)) {
    return { outcome: { mutationId, outcome: 'set_aside', code: read.code, setAside: line }, seen: 0, waits: false };
  }
  const { mutation, fields } = read;
  const { verb, kind, id } = mutation;
  if ((mutation.requires ?? []).some((needed) => !state.records[needed]))
    return aside(mutation, 'parent_missing', true);
  if (verb === 'record') return put(state, client, mutation, fields, { rev: state.records[id] ? 0 : 1 });
  const held = state.records[id];
  if (!held) return aside(mutation, 'parent_missing', true);
  if (verb === 'void' && held.record.voided) {
    const outcome: Outcome = { mutationId, outcome: 'refused', kind, id, code: 'nothing_to_change' };
    return { outcome, seen: 0, waits: false };
  }
  if (verb === 'resolve') return put(state, client, mutation, { standing: 'resolved' }, { rev: held.record.rev });
  return put(state, client, mutation, verb === 'void' ? {} : fields, seenOf(state, client, mutation));
}
