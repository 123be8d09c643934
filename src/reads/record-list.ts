import { listOrder, naturalOrder, type RecordOrder } from '../store/read/record-order.ts';
import {
  type PageBounds,
  type PageRow,
  type RecordFilter,
  recordCounts,
  recordPages,
} from '../store/read/record-pages.ts';
import type { RecordRelation } from '../store/read/record-relations.ts';
import type { RecordRow } from '../store/read/record-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { groupBy } from './group-by.ts';
import { boundsOf, type Page, type PageArgs, pageFrom } from './page-args.ts';

/** A list of records of one kind: all of them, or those that belong to a parent. */
export interface RecordList {
  readonly kind: string;
  readonly relation: RecordRelation | null;
  readonly equal: Readonly<Record<string, string | boolean>>;
  readonly includeVoided: boolean;
}

export type RecordListPage = Page<RecordRow>;

function orderOf(list: RecordList): RecordOrder {
  return list.relation ? naturalOrder(list.kind) : listOrder(list.kind);
}

/** Rows carry what their list is sorted by. */
function pageOf(list: RecordList, bounds: PageBounds, rows: readonly PageRow[]): RecordListPage {
  return pageFrom(list.kind, orderOf(list), bounds, rows, (row) => row);
}

function filterOf(list: RecordList, feeds: readonly string[] | null): RecordFilter {
  return { equal: list.equal, includeVoided: list.includeVoided, feeds };
}

/**
 * A page of the list under each parent, in one statement.
 *
 * @throws Problem `bad_request` where the arguments ask for no page
 */
export async function pagesUnder(
  tx: ReadTx,
  feeds: readonly string[] | null,
  list: RecordList & { readonly relation: RecordRelation },
  parents: readonly string[],
  args: PageArgs,
): Promise<readonly RecordListPage[]> {
  const bounds = boundsOf(list.kind, orderOf(list), args);
  const under = { relation: list.relation, parents: [...new Set(parents)] };
  const rows = await recordPages(tx, list.kind, orderOf(list), under, filterOf(list, feeds), bounds);
  const groups = groupBy(rows, (row) => row.parent);
  return parents.map((parent) => pageOf(list, bounds, groups.get(parent) ?? []));
}

/**
 * A page of all records of a kind.
 *
 * @throws Problem `bad_request` where the arguments ask for no page
 */
export async function pageOfAll(
  tx: ReadTx,
  feeds: readonly string[] | null,
  list: RecordList,
  args: PageArgs,
): Promise<RecordListPage> {
  const bounds = boundsOf(list.kind, orderOf(list), args);
  const rows = await recordPages(tx, list.kind, orderOf(list), null, filterOf(list, feeds), bounds);
  return pageOf(list, bounds, rows);
}

/** How many records the list under each parent has in all. */
export async function countsUnder(
  tx: ReadTx,
  feeds: readonly string[] | null,
  list: RecordList & { readonly relation: RecordRelation },
  parents: readonly string[],
): Promise<readonly number[]> {
  const under = { relation: list.relation, parents: [...new Set(parents)] };
  const counts = await recordCounts(tx, list.kind, under, filterOf(list, feeds));
  return parents.map((parent) => counts.get(parent) ?? 0);
}

export async function countOfAll(tx: ReadTx, feeds: readonly string[] | null, list: RecordList): Promise<number> {
  return (await recordCounts(tx, list.kind, null, filterOf(list, feeds))).get(null) ?? 0;
}
