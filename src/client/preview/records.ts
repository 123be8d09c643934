import { kindNamed } from '../../protocol/kinds-by-name.ts';
import type { Mutation } from '../../protocol/mutation.ts';
import type { RecordState } from '../../protocol/record.ts';
import { derivedId } from '../../rules/derived-id.ts';
import { inOrder } from '../own-work.ts';
import { isReflected, newest, reachOf } from '../reflected.ts';
import type { ClientStore, FeedState, OutboxEntry, StoredRecord } from '../store.ts';

/** Everything on this device that bears on a visit. */
export interface VisitRecordsHere {
  /** Null while the feed of the firm has not come. */
  readonly firm: string | null;
  /** Every row of the feed that the visit lies in. */
  readonly ofEvent: readonly StoredRecord[];
  /** Of the visit, as they were pulled: the visit itself, what belongs to it, and what the server made of it. */
  readonly ofVisit: readonly StoredRecord[];
  /** Containers of its samples and those that the plan has for them, which belong to no visit, with their fills and what the server made of them. */
  readonly besides: readonly StoredRecord[];
  /** Wells, their measuring points, events, units, analyte suites and planned samples, as they were pulled. */
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

type Own = PendingHere;

const AROUND = ['event', 'well', 'measuring-point', 'unit', 'analyte-suite', 'planned-sample'];

function parentOf(kind: string, fields: Mutation['set']): unknown {
  const home = kindNamed(kind)?.home;
  return home?.in === 'parent' ? fields?.[home.field] : undefined;
}

type Under = ReadonlyMap<unknown, readonly StoredRecord[]>;

/** Rows by what they lie under: parents of thousands of rows are looked up once. */
function byParent(rows: readonly StoredRecord[]): Under {
  const under = new Map<unknown, StoredRecord[]>();
  for (const row of rows) {
    const parent = parentOf(row.record.kind, row.record.fields);
    const known = under.get(parent);
    if (known) known.push(row);
    else under.set(parent, [row]);
  }
  return under;
}

/** What lies under a record, under what lies there, and so on. */
function beneath(under: Under, id: string): StoredRecord[] {
  return (under.get(id) ?? []).flatMap((row) => [row, ...beneath(under, row.record.id)]);
}

/** A record with all that lies under it. */
function belonging(rows: readonly StoredRecord[], under: Under, id: string): StoredRecord[] {
  return [...rows.filter(({ record }) => record.id === id), ...beneath(under, id)];
}

/** The samples of the visit, those among them that only this device knows. */
function samplesHere(ofVisit: readonly StoredRecord[], outbox: readonly Own[], visit: string): Set<unknown> {
  const pulled = ofVisit.filter(({ record }) => record.kind === 'sample').map(({ record }) => record.id);
  const own = outbox.filter(({ entry, mutation }) => entry.kind === 'sample' && mutation.set?.visit === visit);
  return new Set([...pulled, ...own.map(({ entry }) => entry.id)]);
}

/** The planned samples that these were taken for, by what was pulled or by what this device says. */
function plansHere(ofVisit: readonly StoredRecord[], outbox: readonly Own[], samples: ReadonlySet<unknown>) {
  const pulled = ofVisit.flatMap(({ record }) => (samples.has(record.id) ? [record.fields.planned] : []));
  const own = outbox.flatMap(({ entry, mutation }) => (samples.has(entry.id) ? [mutation.set?.planned] : []));
  return new Set<unknown>([...pulled, ...own].filter((planned) => typeof planned === 'string'));
}

/** Containers that are labelled for one of these plans. */
function labelledHere(ofEvent: readonly StoredRecord[], outbox: readonly Own[], plans: ReadonlySet<unknown>) {
  if (plans.size === 0) return [];
  const pulled = ofEvent.filter(({ record }) => record.kind === 'container' && plans.has(record.fields.planned));
  const own = outbox.filter(({ entry, mutation }) => entry.kind === 'container' && plans.has(mutation.set?.planned));
  return [...pulled.map(({ record }) => record.id), ...own.map(({ entry }) => entry.id)];
}

/** What is asked of a container that is of no sample rests on no visit, and is told by the server only. */
function isSaidOfIt({ record }: StoredRecord): boolean {
  return record.kind === 'flag' || record.kind === 'flag-review';
}

/** The containers that are, or that this device says are, of one of these samples. */
function containersHere(
  ofEvent: readonly StoredRecord[],
  outbox: readonly Own[],
  samples: ReadonlySet<unknown>,
): Set<string> {
  if (samples.size === 0) return new Set();
  const pulled = ofEvent.filter(({ record }) => record.kind === 'container' && samples.has(record.fields.sample));
  const own = outbox.filter(({ entry, mutation }) => entry.kind === 'container' && samples.has(mutation.set?.sample));
  return new Set([...pulled.map(({ record }) => record.id), ...own.map(({ entry }) => entry.id)]);
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
function bearing(outbox: readonly Own[], around: readonly string[], under: Set<string>): PendingHere[] {
  const known = new Set(around);
  return outbox.flatMap((own) => {
    const { entry, mutation } = own;
    if (mutation.verb === 'record') {
      if (under.has(String(parentOf(entry.kind, mutation.set)))) under.add(entry.id);
      else if (AROUND.includes(entry.kind)) known.add(entry.id);
    }
    return known.has(entry.id) || under.has(entry.id) ? [own] : [];
  });
}

/** Where a visit will lie that only this device knows. */
function feedOfNew(outbox: readonly Own[], visit: string): string | undefined {
  const own = outbox.find(({ entry }) => entry.id === visit);
  const { event } = own?.mutation.set ?? {};
  return typeof event === 'string' ? `event:${event}` : undefined;
}

async function summaryHere(store: ClientStore, firm: string | null, visit: string): Promise<RecordState | null> {
  return firm === null ? null : newest(await store.copies(derivedId(firm, 'visit-summary', visit)));
}

/** Reads the store; to be called where nothing else writes to it. */
export async function visitRecordsHere(store: ClientStore, visit: string): Promise<VisitRecordsHere> {
  const outbox = inOrder(await store.outbox()).map((entry): Own => {
    return { entry, mutation: JSON.parse(entry.line) as Mutation };
  });
  const feeds = await store.feeds();
  const feed = newestFeed(await store.copies(visit)) ?? feedOfNew(outbox, visit);
  const ofEvent = feed === undefined ? [] : await store.recordsOfFeed(feed);
  const beneathEach = byParent(ofEvent);
  const ofVisit = belonging(ofEvent, beneathEach, visit);
  const samples = samplesHere(ofVisit, outbox, visit);
  const containers = containersHere(ofEvent, outbox, samples);
  const labelled = labelledHere(ofEvent, outbox, plansHere(ofVisit, outbox, samples));
  const besides = [
    ...[...containers].flatMap((id) => belonging(ofEvent, beneathEach, id)),
    ...labelled
      .filter((id) => !containers.has(id))
      .flatMap((id) => belonging(ofEvent, beneathEach, id).filter((row) => !isSaidOfIt(row))),
  ];
  const around = newestOfEach((await Promise.all(AROUND.map((kind) => store.recordsOfKind(kind)))).flat());
  const [firmRow] = await store.recordsOfKind('firm');
  const firm = firmRow?.record.id ?? null;
  const synced = new Map([...around, ...ofVisit, ...besides].map(({ record }) => [record.id, record]));
  const reach = reachOf(feeds);
  const under = new Set([visit, ...idsOf(ofVisit), ...containers, ...labelled, ...idsOf(besides)]);
  const pending = bearing(outbox, idsOf(around), under).filter(
    ({ entry }) => !isReflected(entry, synced.get(entry.id) ?? null, reach),
  );
  return { firm, ofEvent, ofVisit, besides, around, summary: await summaryHere(store, firm, visit), pending, feeds };
}
