import type { Outcome } from '../../../src/protocol/mutation.ts';
import { SCHEMA_VERSION } from '../../../src/protocol/version.ts';
import { decideLine } from './decide.ts';
import { append, historyHash, liveOf, type Receipts, type State, tailOf, tallyOf } from './state.ts';

export interface Said {
  readonly status: number;
  readonly body: Readonly<Record<string, unknown>>;
  readonly headers?: Readonly<Record<string, string>>;
}

export function problem(status: number, code: string, members: Readonly<Record<string, unknown>> = {}): Said {
  return { status, body: { type: `/problems/${code}`, title: code, status, code, detail: code, ...members } };
}

function receiptsOf(state: State, client: string): Receipts {
  const receipts = state.receipts[client] ?? { lines: [], outcomes: [], seen: [] };
  state.receipts[client] = receipts;
  return receipts;
}

function retryWaiting(state: State): void {
  for (const one of [...state.waiting]) {
    const { mutationId } = JSON.parse(one.line) as { mutationId: number };
    const decided = decideLine(state, one.client, mutationId, one.line);
    if (decided.outcome.outcome === 'set_aside') continue;
    state.waiting = state.waiting.filter((other) => other !== one);
    retryWaiting(state);
    return;
  }
}

function take(state: State, client: string, number: number, line: string): Outcome {
  const receipts = receiptsOf(state, client);
  const known = receipts.outcomes[number - 1];
  if (known) return known;
  const { outcome, seen, waits } = decideLine(state, client, number, line);
  if (waits) state.waiting.push({ client, line });
  receipts.lines.push(line);
  receipts.outcomes.push(outcome);
  receipts.seen.push(seen);
  const key = `${client} ${number}`;
  state.effects[key] = (state.effects[key] ?? 0) + 1;
  if (!waits) retryWaiting(state);
  return outcome;
}

interface Header {
  readonly client: string;
  readonly first: number;
  readonly count: number;
  /** Cursors of the feeds whose revisions the lines name. */
  readonly seen?: readonly string[];
}

function misfit(state: State, seen: readonly string[]): string | null {
  const cursors = seen.map((text) => JSON.parse(text) as unknown[]);
  return (
    cursors.map((cursor) => resetReason(state, String(cursor[1]), cursor)).find((reason) => reason !== null) ?? null
  );
}

export function answerPush(state: State, body: string, durable: (last: number) => number, now: string): Said {
  const [head = '', ...lines] = body.split('\n').filter((line) => line !== '');
  if (!body.endsWith('\n')) return problem(400, 'cut_short');
  const { client, first, count, seen = [] } = JSON.parse(head) as Header;
  if (lines.length !== count) return problem(400, 'cut_short');
  const receipts = receiptsOf(state, client);
  if (first > receipts.lines.length + 1) {
    return problem(409, 'mutation_gap', { expected: receipts.lines.length + 1 });
  }
  const reused = lines.findIndex((line, at) => (receipts.lines[first + at - 1] ?? line) !== line);
  if (reused >= 0) return problem(409, 'mutation_reused', { mutation: first + reused });
  const reason = first + lines.length - 1 > receipts.lines.length ? misfit(state, seen) : null;
  if (reason) return problem(410, 'reset_required', { reason, lastMutation: receipts.lines.length });
  const outcomes = lines.map((line, at) => take(state, client, first + at, line));
  const lastMutation = receipts.lines.length;
  return { status: 200, body: { client, lastMutation, durable: durable(lastMutation), serverTime: now, outcomes } };
}

export function answerFeeds(
  state: State,
  client: string,
  feeds: readonly string[],
  durable: (last: number) => number,
  now: string,
): Said {
  const lastMutation = state.receipts[client]?.lines.length ?? 0;
  const listed = feeds.map((feed) => ({ feed, tail: tailOf(state, feed), ...tallyOf(liveOf(state, feed)) }));
  const head = {
    epoch: state.epoch,
    serverTime: now,
    schemaVersion: SCHEMA_VERSION,
    lastMutation,
    durable: durable(lastMutation),
  };
  return { status: 200, body: { ...head, feeds: listed } };
}

function resetReason(state: State, feed: string, cursor: readonly unknown[]): string | null {
  const [epoch, named, seq, history] = cursor;
  if (epoch !== state.epoch) return 'epoch';
  if (named !== feed || typeof seq !== 'number') return 'unreadable';
  if (seq > tailOf(state, feed)) return 'future';
  return historyHash(state, feed, seq) === history ? null : 'history';
}

export function answerPage(state: State, feed: string, text: string | null, limit: number, lastMutation: number): Said {
  const cursor = text === null ? null : (JSON.parse(text) as unknown[]);
  const reason = cursor && resetReason(state, feed, cursor);
  if (reason) return problem(410, 'reset_required', { reason, lastMutation });
  const from = cursor === null ? 0 : Number(cursor[2]);
  const log = state.logs[feed] ?? [];
  const newest = log.filter(
    (row) => row.seq > from && !log.some((later) => later.id === row.id && later.seq > row.seq),
  );
  const wanted = newest.filter((row) => cursor !== null || row.record !== null);
  const rows = wanted.slice(0, limit);
  const more = rows.length < wanted.length;
  const seq = more ? (rows.at(-1)?.seq ?? from) : tailOf(state, feed);
  return {
    status: 200,
    body: {
      feed,
      rows: rows.map(({ seq: at, kind, id, record }) =>
        record ? { seq: at, record } : { seq: at, gone: { kind, id } },
      ),
      cursor: JSON.stringify([state.epoch, feed, seq, historyHash(state, feed, seq)]),
      more,
      tail: tailOf(state, feed),
      ...tallyOf(liveOf(state, feed)),
    },
  };
}

/** Few enough rows are given themselves; otherwise count and hash of each next two digits. */
export function answerVerify(state: State, feed: string, prefix: string, fewRows: number): Said {
  const live = liveOf(state, feed).filter(({ id }) => id.replaceAll('-', '').startsWith(prefix));
  const log = state.logs[feed] ?? [];
  const seqOf = (id: string) => log.findLast((row) => row.id === id)?.seq ?? 0;
  const digits = [...new Set(live.map(({ id }) => id.replaceAll('-', '').slice(0, prefix.length + 2)))].sort();
  const buckets = digits.map((digit) => {
    const { count, contentHash } = tallyOf(live.filter(({ id }) => id.replaceAll('-', '').startsWith(digit)));
    return { prefix: digit, count, hash: contentHash };
  });
  const head = { feed, prefix, tail: tailOf(state, feed) };
  if (live.length > fewRows) return { status: 200, body: { ...head, buckets } };
  return {
    status: 200,
    body: { ...head, buckets: [], rows: live.map((record) => ({ seq: seqOf(record.id), record })) },
  };
}

/** The office changes a record: what a phone then pulls. */
export function officeWrites(
  state: State,
  feed: string,
  kind: string,
  id: string,
  fields: Record<string, unknown>,
): void {
  const old = state.records[id];
  const none = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  const rev = (old?.record.rev ?? 0) + 1;
  const record = { kind, id, rev, ...none, fields: { ...old?.record.fields, ...fields } };
  const writers = { ...old?.writers };
  for (const [field, value] of Object.entries(fields)) writers[field] = { rev, client: null, value };
  state.records[id] = { feed, record, writers };
  append(state, feed, { kind, id, record });
  retryWaiting(state);
}
