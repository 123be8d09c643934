import { z } from 'zod';
import { Problem } from '../protocol/problem.ts';
import { readListCursor, writeListCursor } from './list-cursor.ts';

const MOST = 1_000;
const USUAL = 200;

/** Which part of a list that is told from the whole history of something. */
export const toldPageInput = z.strictObject({
  limit: z.coerce.number().int().min(1).max(MOST).default(USUAL),
  cursor: z.string().max(1_000).optional().describe('`next` of the part before'),
});
export type ToldPageGiven = z.output<typeof toldPageInput>;

export interface ToldPage<Item> {
  readonly items: Item[];
  readonly next: string | null;
}

/**
 * A part of a list that is put together anew each time it is asked for.
 *
 * @param keyOf tells an item from all others, and stays the same while it is there
 * @throws Problem `bad_request` where the item after which it goes on is no more there
 */
export function toldPage<Item>(
  list: string,
  items: readonly Item[],
  keyOf: (item: Item) => string,
  { limit, cursor }: ToldPageGiven,
): ToldPage<Item> {
  const after = readListCursor(list, cursor, () => true);
  const place = after === null ? -1 : items.findIndex((item) => keyOf(item) === after);
  if (after !== null && place < 0)
    throw new Problem('bad_request', 'cursor: what it goes on after has changed since; begin again', {
      pointer: '/cursor',
    });
  const part = items.slice(place + 1, place + 1 + limit);
  const last = part.at(-1);
  const isLast = last === undefined || place + 1 + limit >= items.length;
  return { items: part, next: isLast ? null : writeListCursor(list, keyOf(last)) };
}
