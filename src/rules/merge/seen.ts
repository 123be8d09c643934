import type { Fields } from '../../protocol/read-mutation.ts';
import type { Seen } from './register.ts';

/** The revision last seen of a field whose value on the screen was the writer's own; undefined where it was not. */
function revUnder(seen: Seen, field: string): number | undefined {
  if (!('rev' in seen) || seen.under === undefined) return undefined;
  return Object.hasOwn(seen.under, field) ? seen.under[field] : undefined;
}

/** What a writer had seen of one field; of values, for a phone that lost its revisions. */
export function seenOfField(seen: Seen | null, field: string): Seen {
  if (seen === null) return { rev: 0 };
  if ('rev' in seen) return { rev: revUnder(seen, field) ?? seen.rev };
  return { value: (seen.value as Fields)[field] ?? null };
}

/** The revision of the record as a whole that was seen; 0 where it is not known. */
export function recordRevOf(seen: Seen | null): number {
  return seen !== null && 'rev' in seen ? seen.rev : 0;
}

/** A revision that was seen whole: what own values covered on the screen was not. 0 where none is known. */
export function wholeRevOf(seen: Seen | null): number {
  if (seen === null || !('rev' in seen)) return 0;
  return Math.min(seen.rev, ...Object.values(seen.under ?? {}));
}

/** Whether it names a revision that the record does not have yet: of a time before the server was set back. */
export function isAhead(seen: Extract<Seen, { readonly rev: number }>, current: number): boolean {
  return Math.max(seen.rev, ...Object.values(seen.under ?? {})) > current;
}
