import { Problem } from '../protocol/problem.ts';
import { type TokenInfo, tokenById, tokensAfter } from '../store/read/token-list.ts';
import { isId, readListCursor, writeListCursor } from './list-cursor.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

const LIST = 'tokens';

/** The tokens of the firm, without their secrets. */
export async function tokenPage(
  ctx: ReadContext,
  reader: Reader,
  page: { readonly cursor?: string | undefined; readonly limit: number },
): Promise<{ readonly items: readonly TokenInfo[]; readonly next: string | null }> {
  const after = readListCursor(LIST, page.cursor, isId);
  const found = await ctx.records.read(reader.firm, (tx) => tokensAfter(tx, after, page.limit + 1));
  const items = found.slice(0, page.limit);
  const last = found.length > page.limit ? items.at(-1) : undefined;
  return { items, next: last ? writeListCursor(LIST, last.id) : null };
}

export async function oneToken(ctx: ReadContext, reader: Reader, id: string): Promise<TokenInfo> {
  const found = await ctx.records.read(reader.firm, (tx) => tokenById(tx, id));
  if (!found) throw new Problem('not_found', `no token ${id} is known`);
  return found;
}
