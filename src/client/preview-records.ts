import { kindNamed } from '../protocol/kinds-by-name.ts';
import type { Mutation } from '../protocol/mutation.ts';
import type { RecordState } from '../protocol/record.ts';
import { derivedId } from '../rules/derived-id.ts';
import { inOrder } from './own-work.ts';
import { isReflected, newest, reachOf } from './reflected.ts';
import type { ClientStore, FeedState, OutboxEntry, StoredRecord } from './store.ts';

/** Everything on this device that bears on a visit. */
export interface VisitRecordsHere {
  /** Null while the feed of the firm has not come. */
  readonly firm: string | null;
  /** Every row of the feed that the visit lies in. */
  readonly ofEvent: readonly StoredRecord[];
  /** Of the visit, as they were pulled: the visit itself, what belongs to it, and what the server made of it. */
  readonly ofVisit: readonly StoredRecord[];
  /** Wells, their measuring points, events and units, as they were pulled. */
  readonly around: readonly StoredRecord[];
  /** Where the summary of the visit lies that was pulled. */
  readonly summary: RecordState | null;
  /** Own work that the pulled rows do not tell of yet, in order of capture. */
  readonly pending: readonly PendingHere[];
  readonly feeds: readonly FeedState[];
}

export interface PendingHere {
  readonly entry: OutboxEntry;
  readonly mutation: Mutation;
}

const AROUND = ['event', 'well', 'measuring-point', 'unit'];

function parentOf(kind: string, fields: Mutation['set']): unknown {
  const home = kindNamed(kind)?.home;
  return home?.in === 'parent' ? fields?.[home.field] : undefined;
}

/** What lies under the visit, under what lies there, and so on; parents of thousands of rows are looked up once. */
function belonging(rows: readonly StoredRecord[], visit: string): StoredRecord[] {
  const under = new Map<unknown, StoredRecord[]>();
  const found: StoredRecord[] = [];
  for (const row of rows) {
    const { kind, id, fields } = row.record;
    if (id === visit) found.push(row);
    const parent = parentOf(kind, fields);
    const known = under.get(parent);
    if (known) known.push(row);
    else under.set(parent, [row]);
  }
  const take = (parent: string): void => {
    for (const row of under.get(parent) ?? []) {
      found.push(row);
      take(row.record.id);
    }
  };
  take(visit);
  return found;
}

/** The newest copy of each: one that moves is for a while held in two feeds. */
function newestOfEach(rows: readonly StoredRecord[]): StoredRecord[] {
  const best = new Map<string, StoredRecord>();
  for (const row of rows) {
    const known = best.get(row.record.id);
    if (!known || row.record.rev > known.record.rev) best.set(row.record.id, row);
  }
  return [...best.values()];
}

function idsOf(rows: readonly StoredRecord[]): string[] {
  return rows.map(({ record }) => record.id);
}

function newestFeed(copies: readonly StoredRecord[]): string | undefined {
  const record = newest(copies);
  return copies.find((copy) => copy.record === record)?.feed;
}

/**
 * The own mutations that change one of these records, or record something under the visit, in order of capture.
 *
 * @param under the visit and what belongs to it
 */
function bearing(outbox: readonly OutboxEntry[], around: readonly string[], under: Set<string>): PendingHere[] {
  const known = new Set(around);
  return inOrder(outbox).flatMap((entry) => {
    const mutation = JSON.parse(entry.line) as Mutation;
    if (mutation.verb === 'record') {
      if (under.has(String(parentOf(entry.kind, mutation.set)))) under.add(entry.id);
      else if (AROUND.includes(entry.kind)) known.add(entry.id);
    }
    return known.has(entry.id) || under.has(entry.id) ? [{ entry, mutation }] : [];
  });
}

/** Where a visit will lie that only this device knows. */
function feedOfNew(outbox: readonly OutboxEntry[], visit: string): string | undefined {
  const entry = outbox.find(({ id }) => id === visit);
  const { event } = entry === undefined ? {} : ((JSON.parse(entry.line) as Mutation).set ?? {});
  return typeof event === 'string' ? `event:${event}` : undefined;
}

async function summaryHere(store: ClientStore, firm: string | null, visit: string): Promise<RecordState | null> {
  return firm === null ? null : newest(await store.copies(derivedId(firm, 'visit-summary', visit)));
}

/** Reads the store; to be called where nothing else writes to it. */
export async function visitRecordsHere(store: ClientStore, visit: string): Promise<VisitRecordsHere> {
  const outbox = await store.outbox();
  const feeds = await store.feeds();
  const feed = newestFeed(await store.copies(visit)) ?? feedOfNew(outbox, visit);
  const ofEvent = feed === undefined ? [] : await store.recordsOfFeed(feed);
  const ofVisit = belonging(ofEvent, visit);
  const around = newestOfEach((await Promise.all(AROUND.map((kind) => store.recordsOfKind(kind)))).flat());
  const [firmRow] = await store.recordsOfKind('firm');
  const firm = firmRow?.record.id ?? null;
  const synced = new Map([...around, ...ofVisit].map(({ record }) => [record.id, record]));
  const reach = reachOf(feeds);
  const under = new Set([visit, ...idsOf(ofVisit)]);
  const pending = bearing(outbox, idsOf(around), under).filter(
    ({ entry }) => !isReflected(entry, synced.get(entry.id) ?? null, reach),
  );
  return { firm, ofEvent, ofVisit, around, summary: await summaryHere(store, firm, visit), pending, feeds };
}
