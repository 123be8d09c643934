import { Problem } from '../protocol/problem.ts';
import { type EnrolmentInfo, enrolmentById, enrolmentsAfter } from '../store/read/enrolment-list.ts';
import { isId, readListCursor, writeListCursor } from './list-cursor.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

const LIST = 'enrolment-codes';

export type EnrolmentStanding = 'open' | 'used' | 'withdrawn' | 'expired';

export interface ShownEnrolment extends EnrolmentInfo {
  readonly standing: EnrolmentStanding;
}

export function standingOf(code: EnrolmentInfo, now: Date): EnrolmentStanding {
  // what gave out a token is withdrawn no more, so this one gave out none, used or not
  if (code.withdrawnAt !== null) return 'withdrawn';
  if (code.usedAt !== null) return 'used';
  return Date.parse(code.expiresAt) <= now.getTime() ? 'expired' : 'open';
}

/** The codes of the firm, without the codes; what a stranger is not told, the office is: what became of each. */
export async function enrolmentPage(
  ctx: ReadContext & { readonly now: () => Date },
  reader: Reader,
  page: { readonly cursor?: string | undefined; readonly limit: number },
): Promise<{ readonly items: readonly ShownEnrolment[]; readonly next: string | null }> {
  const after = readListCursor(LIST, page.cursor, isId);
  const found = await ctx.records.read(reader.firm, (tx) => enrolmentsAfter(tx, after, page.limit + 1));
  const items = found.slice(0, page.limit).map((code) => ({ ...code, standing: standingOf(code, ctx.now()) }));
  const last = found.length > page.limit ? items.at(-1) : undefined;
  return { items, next: last ? writeListCursor(LIST, last.id) : null };
}

export async function oneEnrolment(
  ctx: ReadContext & { readonly now: () => Date },
  reader: Reader,
  id: string,
): Promise<ShownEnrolment> {
  const found = await ctx.records.read(reader.firm, (tx) => enrolmentById(tx, id));
  if (!found) throw new Problem('not_found', `no enrolment code ${id} is known`);
  return { ...found, standing: standingOf(found, ctx.now()) };
}
