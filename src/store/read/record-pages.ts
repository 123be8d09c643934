import { columnName } from '../tables.ts';
import { BY_ID, type RecordOrder, typedTable } from './record-order.ts';
import type { RecordRelation } from './record-relations.ts';
import { type RecordRow, WITH_STATE } from './record-states.ts';
import type { ReadTx } from './transaction.ts';

/** A place in a list: what its records are sorted by, and the id that breaks a tie. */
export interface Place {
  /** Null where the record has none. */
  readonly key: string | null;
  readonly id: string;
}

/** Which records are listed. */
export interface RecordFilter {
  /** Fields that are columns of the typed table, with the value that each must have. */
  readonly equal: Readonly<Record<string, string | boolean>>;
  readonly includeVoided: boolean;
  /** The feeds that the reader may see; null for every feed of the firm. */
  readonly feeds: readonly string[] | null;
}

export interface PageBounds {
  readonly after: Place | null;
  readonly before: Place | null;
  readonly limit: number;
  /** From the end of the list towards its beginning. */
  readonly backward: boolean;
}

export interface PageRow extends RecordRow {
  /** The record that it was asked for under; null in a list of all. */
  readonly parent: string | null;
  /** What the list is sorted by; null where the record has none. */
  readonly key: string | null;
}

/** Collects the values of a statement and gives each its place in the text. */
class Values {
  readonly list: unknown[];

  constructor(...first: unknown[]) {
    this.list = first;
  }

  add(value: unknown, type: string): string {
    this.list.push(value);
    return `$${this.list.length}::${type}`;
  }
}

function conditions(kind: string, filter: RecordFilter, values: Values): string[] {
  const { fields } = typedTable(kind);
  const equal = Object.entries(filter.equal).map(([field, value]) => {
    const type = fields[field];
    if (type === undefined) throw new Error(`a ${kind} is not found by ${field}: it is no column of its table`);
    return `t."${columnName(field)}" = ${values.add(value, type)}`;
  });
  const voided = filter.includeVoided ? [] : ['not t.voided'];
  const feeds = filter.feeds === null ? [] : [`h.feed = any(${values.add(filter.feeds, 'text[]')})`];
  return [...equal, ...voided, ...feeds];
}

function sortKey({ column, type }: RecordOrder): string {
  return type === 'text' ? `t."${column}" collate "C"` : `t."${column}"`;
}

/**
 * The database sorts those without a key last, and first when it goes backward; but what it compares with null is neither
 * before nor after it, and would be in no page.
 */
function beyondMaybeMissing(order: RecordOrder, { key, id }: Place, sign: '<' | '>', values: Values): string {
  const isNull = `t."${order.column}" is null`;
  const byId = `t.id ${sign} ${values.add(id, 'uuid')}`;
  if (key === null) return sign === '>' ? `(${isNull} and ${byId})` : `(not (${isNull}) or ${byId})`;
  const given = values.add(key, order.type);
  const among = `(${sortKey(order)} ${sign} ${given} or (${sortKey(order)} = ${given} and ${byId}))`;
  return sign === '>' ? `(${isNull} or ${among})` : among;
}

function beyond(order: RecordOrder, place: Place | null, sign: '<' | '>', values: Values): string[] {
  if (place === null) return [];
  if (order.maybeMissing) return [beyondMaybeMissing(order, place, sign, values)];
  const id = values.add(place.id, 'uuid');
  if (order === BY_ID) return [`t.id ${sign} ${id}`];
  return [`(${sortKey(order)}, t.id) ${sign} (${values.add(place.key, order.type)}, ${id})`];
}

const ALL = '(select null::uuid as id) as p';
const EACH = 'unnest($2::uuid[]) as p(id)';

/**
 * One page of a list under each parent, in one statement, cut off in the database.
 *
 * @param under which list, and the parents; null for the list of all records of the kind
 */
export async function recordPages(
  tx: ReadTx,
  kind: string,
  order: RecordOrder,
  under: { readonly relation: RecordRelation; readonly parents: readonly string[] } | null,
  filter: RecordFilter,
  bounds: PageBounds,
): Promise<PageRow[]> {
  const values = under ? new Values(tx.firm, under.parents) : new Values(tx.firm);
  const where = [
    't.firm = $1',
    ...(under ? [under.relation.where] : []),
    ...conditions(kind, filter, values),
    ...beyond(order, bounds.after, '>', values),
    ...beyond(order, bounds.before, '<', values),
  ];
  const direction = bounds.backward ? 'desc' : 'asc';
  const byKey = order === BY_ID ? '' : `${sortKey(order)} ${direction}, `;
  const text = `select p.id as parent, r.* from ${under ? EACH : ALL} cross join lateral (
  select t.id, h.kind, h.feed, h.seq, t."${order.column}" as key, l.state,
    row_number() over (order by ${byKey}t.id ${direction}) as place
  from "${typedTable(kind).table}" t ${WITH_STATE}
  where ${where.join(' and ')}
  order by ${byKey}t.id ${direction} limit ${values.add(bounds.limit, 'bigint')}
) r order by p.id, r.place`;
  return (await tx.client.query<PageRow>(text, values.list)).rows;
}

/** How many records each list has in all; a parent without any is left out. */
export async function recordCounts(
  tx: ReadTx,
  kind: string,
  under: { readonly relation: RecordRelation; readonly parents: readonly string[] } | null,
  filter: RecordFilter,
): Promise<ReadonlyMap<string | null, number>> {
  const values = under ? new Values(tx.firm, under.parents) : new Values(tx.firm);
  const where = ['t.firm = $1', ...(under ? [under.relation.where] : []), ...conditions(kind, filter, values)];
  const text = `select p.id as parent, count(*) as count from ${under ? EACH : ALL}, "${typedTable(kind).table}" t
join head h on h.firm = t.firm and h.id = t.id and not h.gone
where ${where.join(' and ')} group by p.id`;
  const { rows } = await tx.client.query<{ parent: string | null; count: number }>(text, values.list);
  return new Map(rows.map((row) => [row.parent, row.count]));
}
