import { LIMITS } from '../protocol/limits.ts';
import { Problem } from '../protocol/problem.ts';
import type { RecordOrder } from '../store/read/record-order.ts';
import type { PageBounds, Place } from '../store/read/record-pages.ts';
import { readRecordCursor, writeRecordCursor } from './record-cursor.ts';

/** Which part of a list: `first` after a place, or `last` before one. */
export interface PageArgs {
  readonly first?: number | null | undefined;
  readonly after?: string | null | undefined;
  readonly last?: number | null | undefined;
  readonly before?: string | null | undefined;
}

export interface Page<Item> {
  readonly edges: readonly { readonly cursor: string; readonly node: Item }[];
  readonly hasNextPage: boolean;
  readonly hasPreviousPage: boolean;
}

/** How many items a page has where nobody says. */
const DEFAULT_PAGE = 20;

/** How many items a page holds at most. */
export function pageSize({ first, last }: PageArgs): number {
  return first ?? last ?? DEFAULT_PAGE;
}

function checkSize(args: PageArgs): number {
  if (args.first != null && args.last != null) throw new Problem('bad_request', 'first and last: give one of them');
  const size = pageSize(args);
  if (size >= 1 && size <= LIMITS.listPageItems) return size;
  const name = args.first == null ? 'last' : 'first';
  throw new Problem('bad_request', `${name} was ${size}: 1 to listPageItems ${LIMITS.listPageItems}`);
}

/**
 * What to ask the database for: one more than the page, to know whether there is more.
 *
 * @throws Problem `bad_request` where the arguments ask for no page
 */
export function boundsOf(list: string, order: RecordOrder, args: PageArgs): PageBounds {
  const place = (name: 'after' | 'before') => {
    const cursor = args[name];
    return cursor == null ? null : readRecordCursor(list, order, cursor, name);
  };
  const backward = args.last != null;
  return { after: place('after'), before: place('before'), limit: checkSize(args) + 1, backward };
}

/** Cuts the page from what the database gave for its bounds. */
export function pageFrom<Item>(
  list: string,
  order: RecordOrder,
  bounds: PageBounds,
  rows: readonly Item[],
  placeOf: (item: Item) => Place,
): Page<Item> {
  const more = rows.length === bounds.limit;
  const within = rows.slice(0, bounds.limit - 1);
  const edges = (bounds.backward ? within.toReversed() : within).map((node) => {
    return { cursor: writeRecordCursor(list, order, placeOf(node)), node };
  });
  // whether there is anything on the side that was not asked about is only known by the place given
  return {
    edges,
    hasNextPage: bounds.backward ? bounds.before !== null : more,
    hasPreviousPage: bounds.backward ? more : bounds.after !== null,
  };
}
