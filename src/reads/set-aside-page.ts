import { instant } from '../protocol/primitives.ts';
import { Problem } from '../protocol/problem.ts';
import {
  type SetAsideInfo,
  type SetAsidePlace,
  type Standing,
  setAsideOfId,
  setAsidesAfter,
} from '../store/read/set-aside-list.ts';
import { isId, readListCursor, writeListCursor } from './list-cursor.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

const LIST = 'set-asides';

function isPlace(text: string): boolean {
  const [receivedAt, id = '', ...rest] = text.split(' ');
  return instant.safeParse(receivedAt).success && isId(id) && rest.length === 0;
}

function placeOf(text: string | null): SetAsidePlace | null {
  if (text === null) return null;
  const [receivedAt = '', id = ''] = text.split(' ');
  return { receivedAt, id };
}

/** What was handed in and not applied, oldest first. */
export async function setAsidePage(
  ctx: ReadContext,
  reader: Reader,
  standing: Standing | null,
  page: { readonly cursor?: string | undefined; readonly limit: number },
): Promise<{ readonly items: readonly SetAsideInfo[]; readonly next: string | null }> {
  const after = placeOf(readListCursor(LIST, page.cursor, isPlace));
  const found = await ctx.records.read(reader.firm, (tx) => setAsidesAfter(tx, standing, after, page.limit + 1));
  const items = found.slice(0, page.limit);
  const last = found.length > page.limit ? items.at(-1) : undefined;
  return { items, next: last ? writeListCursor(LIST, `${last.receivedAt} ${last.id}`) : null };
}

export async function oneSetAside(ctx: ReadContext, reader: Reader, id: string): Promise<SetAsideInfo> {
  const found = await ctx.records.read(reader.firm, (tx) => setAsideOfId(tx, id));
  if (!found) throw new Problem('not_set_aside', `nothing was set aside under ${id}`);
  return found;
}
