import type { HowUsed } from '../../protocol/kinds/unit-use.ts';
import type { Moment } from './moment.ts';

/** A unit at a well, from when until when. */
export interface Contact {
  readonly unit: string;
  readonly visit: string;
  readonly well: string;
  readonly how: HowUsed;
  readonly from: Moment;
  /** Null while nothing says that it is over. */
  readonly until: Moment | null;
  /** Whether a record gives its end, or it ends because the crew left, or not yet. */
  readonly ends: 'said' | 'with-the-visit' | 'open';
  /** Read now and then: between two of its records it may have been elsewhere. */
  readonly isNowAndThen: boolean;
}

export function compareContacts(a: Contact, b: Contact): number {
  if (a.from.ms !== b.from.ms) return a.from.ms - b.from.ms;
  const [one, other] = [a, b].map(({ from, visit, how }) => `${from.record} ${visit} ${how}`) as [string, string];
  return one < other ? -1 : one > other ? 1 : 0;
}
