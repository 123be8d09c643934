import type { RecordState } from '../../protocol/record.ts';
import type { MergeMemory } from '../../rules/merge/merge-memory.ts';
import { uuidArray } from './array-parameter.ts';
import type { StoredHeld } from './stored-held.ts';
import type { WriteTx } from './transaction.ts';

interface Row {
  readonly feed: string;
  readonly parent: string | null;
  readonly visit: string | null;
  readonly row_hash: Buffer;
  readonly merge: MergeMemory | null;
  readonly state: RecordState;
}

/**
 * Looks up one head and one ledger row for each key that `keys` gives, by index. The fences (`offset 0`) keep the
 * planner from turning that into a join over all rows of the firm, which it prefers while the tables are small or were
 * never analysed, and then remembers in the prepared statement when they are large.
 */
function lookUp(keys: string, where: string): string {
  return `select h.feed, h.parent, h.visit, h.row_hash, h.merge, l.state from ${keys}
cross join lateral (select * from head where firm = $1 and not gone and ${where} offset 0) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l`;
}

const WANTED = 'unnest($2::uuid[]) as wanted(id)';

function held(row: Row): StoredHeld {
  const { feed, parent, visit, merge, state } = row;
  return { state, feed, parent, visit, memory: merge, rowHash: row.row_hash };
}

async function select(tx: WriteTx, name: string, text: string, ...values: unknown[]): Promise<StoredHeld[]> {
  const { rows } = await tx.client.query<Row>({ name: `held-${name}`, text, values: [tx.firm, ...values] });
  return rows.map(held);
}

/** Those that are remembered are not asked for. */
export async function heldById(tx: WriteTx, ids: readonly string[]): Promise<StoredHeld[]> {
  const known = ids.flatMap((id) => tx.memory.get(id) ?? []);
  const unknown = known.length === 0 ? ids : ids.filter((id) => !tx.memory.has(id));
  if (unknown.length === 0) return known;
  const loaded = await select(tx, 'by-id', lookUp(WANTED, 'id = wanted.id'), uuidArray(unknown));
  tx.memory.add(loaded);
  return [...known, ...loaded];
}

/** Everything that belongs to these visits, the visits among it. */
export async function heldOfVisits(tx: WriteTx, visits: readonly string[]): Promise<StoredHeld[]> {
  const known = visits.flatMap((visit) => tx.memory.ofVisit(visit) ?? []);
  const unknown = visits.filter((visit) => !tx.memory.hasVisit(visit));
  if (unknown.length === 0) return known;
  const loaded = await select(tx, 'of-visits', lookUp(WANTED, 'visit = wanted.id'), uuidArray(unknown));
  tx.memory.addVisits(unknown, loaded);
  return [...known, ...loaded];
}

export async function heldUnder(
  tx: WriteTx,
  parents: readonly string[],
  kinds: readonly string[],
): Promise<StoredHeld[]> {
  const known = parents.flatMap((parent) => tx.memory.under(parent, kinds) ?? []);
  const unknown = parents.filter((parent) => tx.memory.under(parent, kinds) === null);
  if (unknown.length === 0) return known;
  const text = lookUp(WANTED, 'parent = wanted.id and kind = any($3::text[])');
  const loaded = await select(tx, 'under', text, unknown, kinds);
  tx.memory.addUnder(unknown, kinds, loaded);
  return [...known, ...loaded];
}

export function wellsOfNests(tx: WriteTx, nests: readonly string[]): Promise<StoredHeld[]> {
  const wells = `${WANTED}
cross join lateral (select id from well where firm = $1 and nest = wanted.id offset 0) w`;
  return select(tx, 'nest-wells', lookUp(wells, 'id = w.id'), nests);
}

/** The claims of these wells: pairs of event and well at the same place of both lists. */
export function claimsOfWells(tx: WriteTx, events: readonly string[], wells: readonly string[]): Promise<StoredHeld[]> {
  const claims = `unnest($2::uuid[], $3::uuid[]) as wanted(event, well)
cross join lateral (
  select id from well_claim where firm = $1 and event = wanted.event and well = wanted.well offset 0
) c`;
  return select(tx, 'well-claims', lookUp(claims, 'id = c.id'), events, wells);
}

/** The visits to these wells: pairs of event and well at the same place of both lists. */
export function visitsAtWells(tx: WriteTx, events: readonly string[], wells: readonly string[]): Promise<StoredHeld[]> {
  const visits = `unnest($2::uuid[], $3::uuid[]) as wanted(event, well)
cross join lateral (
  select id from visit where firm = $1 and event = wanted.event and well = wanted.well offset 0
) v`;
  return select(tx, 'visits-at-wells', lookUp(visits, 'id = v.id'), uuidArray(events), uuidArray(wells));
}

/** The flags about equipment that these units' records tell. */
export function flagsOfUnits(tx: WriteTx, units: readonly string[]): Promise<StoredHeld[]> {
  const flags = `${WANTED}
cross join lateral (select id from flag where firm = $1 and unit = wanted.id and not voided offset 0) f`;
  return select(tx, 'unit-flags', lookUp(flags, 'id = f.id'), uuidArray(units));
}

export function signOutsOfUnits(tx: WriteTx, units: readonly string[]): Promise<StoredHeld[]> {
  const claims = `${WANTED}
cross join lateral (select id from sign_out where firm = $1 and unit = wanted.id offset 0) s`;
  return select(tx, 'sign-outs', lookUp(claims, 'id = s.id'), units);
}

/** The containers of these samples, and those that are labelled for these planned samples and are of no sample. */
export function containersOfSamples(
  tx: WriteTx,
  samples: readonly string[],
  planned: readonly string[],
): Promise<StoredHeld[]> {
  const containers = `(
  select c.id from ${WANTED}
  cross join lateral (select id from container where firm = $1 and sample = wanted.id offset 0) c
  union all
  select c.id from unnest($3::uuid[]) as plan(id)
  cross join lateral (
    select id from container where firm = $1 and planned = plan.id and sample is null and blank is null offset 0
  ) c
) c`;
  return select(tx, 'sample-containers', lookUp(containers, 'id = c.id'), uuidArray(samples), uuidArray(planned));
}

/** The samples that were taken for these planned ones. */
export function samplesOfPlans(tx: WriteTx, planned: readonly string[]): Promise<StoredHeld[]> {
  const samples = `${WANTED}
cross join lateral (select id from sample where firm = $1 and planned = wanted.id offset 0) s`;
  return select(tx, 'plan-samples', lookUp(samples, 'id = s.id'), uuidArray(planned));
}

/** The containers with these labels: pairs of event and label at the same place of both lists. */
export function containersLabelled(
  tx: WriteTx,
  events: readonly string[],
  labels: readonly string[],
): Promise<StoredHeld[]> {
  const containers = `unnest($2::uuid[], $3::text[]) as wanted(event, label)
cross join lateral (
  select id from container where firm = $1 and event = wanted.event and label = wanted.label offset 0
) c`;
  return select(tx, 'labelled-containers', lookUp(containers, 'id = c.id'), uuidArray(events), labels);
}

/** The analyte suites that have these names. */
export function suitesNamed(tx: WriteTx, names: readonly string[]): Promise<StoredHeld[]> {
  const suites = `unnest($2::text[]) as wanted(name)
cross join lateral (select id from analyte_suite where firm = $1 and name = wanted.name offset 0) s`;
  return select(tx, 'named-suites', lookUp(suites, 'id = s.id'), names);
}

/** The containers that are for analyte suites of these names and of no sample. */
export function containersOfSuites(tx: WriteTx, names: readonly string[]): Promise<StoredHeld[]> {
  const containers = `unnest($2::text[]) as wanted(name)
cross join lateral (
  select id from container where firm = $1 and suite = wanted.name and sample is null offset 0
) c`;
  return select(tx, 'suite-containers', lookUp(containers, 'id = c.id'), names);
}

/** What is packed in these coolers. */
export function containersOfCoolers(tx: WriteTx, coolers: readonly string[]): Promise<StoredHeld[]> {
  const containers = `${WANTED}
cross join lateral (select id from container where firm = $1 and cooler = wanted.id offset 0) c`;
  return select(tx, 'cooler-containers', lookUp(containers, 'id = c.id'), uuidArray(coolers));
}

/** What laboratories found in these coolers. */
export function receiptsOfCoolers(tx: WriteTx, coolers: readonly string[]): Promise<StoredHeld[]> {
  const receipts = `${WANTED}
cross join lateral (select id from sample_receipt where firm = $1 and cooler = wanted.id offset 0) r`;
  return select(tx, 'cooler-receipts', lookUp(receipts, 'id = r.id'), uuidArray(coolers));
}
