import { canonicalText } from '../../protocol/content-hash.ts';
import { resolutionId } from './resolution-id.ts';

/** A value that somebody gave a field, who gave it, and when it was the one shown. */
export interface Entry {
  readonly value: unknown;
  readonly client: string | null;
  readonly mutation: number | null;
  readonly by: string | null;
  /** Revisions of the record at which this value came into view, went out of view, came into view again ... */
  readonly shown: readonly [number, ...number[]];
}

/** The values of one field that nobody has superseded. The last one that arrived is shown, the others are kept. */
export type Register = readonly Entry[];

/**
 * What the writer of a change had in view: a revision; or a revision but for the fields of which own values, that it does
 * not tell of, were on the screen: each with the revision last seen under them; or the value itself where revisions no
 * longer mean anything.
 */
export type Seen =
  | { readonly rev: number; readonly under?: Readonly<Record<string, number>> | undefined }
  | { readonly value: unknown };

export interface Write {
  readonly value: unknown;
  readonly client: string | null;
  readonly mutation: number | null;
  readonly by: string | null;
  /** The revision of the record that this write brings about. */
  readonly rev: number;
  /** Of this field. */
  readonly seen: Seen;
  /** The decision that closed the last conflict of this field, where there was one. */
  readonly decision?: string | undefined;
}

export function sameValue(a: unknown, b: unknown): boolean {
  return a === b || canonicalText(a ?? null) === canonicalText(b ?? null);
}

function wasShownAt(entry: Entry, rev: number): boolean {
  return entry.shown.filter((flip) => flip <= rev).length % 2 === 1;
}

export function isShown(entry: Entry): boolean {
  return entry.shown.length % 2 === 1;
}

function isChosenBy({ client, mutation }: Entry, decision: string | undefined): boolean {
  return decision !== undefined && client !== null && mutation !== null && resolutionId(client, mutation) === decision;
}

/**
 * A write supersedes what its writer had in view, and what the same client wrote before. It never supersedes a value
 * that its writer had not seen, nor a rival that was kept out of view: those stand until somebody decides. A value that
 * a person chose may equal one from before: who says in values what it had seen had not seen that it was chosen.
 */
function supersedes(write: Write, entry: Entry): boolean {
  const own = write.client !== null && entry.client === write.client;
  const ordered = own && entry.mutation !== null && write.mutation !== null;
  if (ordered && entry.mutation < write.mutation) return true;
  if ('rev' in write.seen) return wasShownAt(entry, write.seen.rev);
  return sameValue(entry.value, write.seen.value) && !isChosenBy(entry, write.decision);
}

function withView(entry: Entry, write: Write): Entry {
  const same = sameValue(entry.value, write.value);
  return same === isShown(entry) ? entry : { ...entry, shown: [...entry.shown, write.rev] };
}

/**
 * Takes one write into a register. Whatever the order of concurrent writes, the same values remain; only which of
 * them is shown follows the order in which the server took them.
 *
 * @returns the values that remain, the one just written last
 */
export function writeRegister(register: Register, write: Write): Register {
  const remaining = register.filter((entry) => !supersedes(write, entry)).map((entry) => withView(entry, write));
  const { value, client, mutation, by, rev } = write;
  return [...remaining, { value, client, mutation, by, shown: [rev] }];
}

/** The entries whose value differs from the one shown, in an order that does not depend on when they arrived. */
export function rivals(register: Register): Register {
  const shown = register.at(-1);
  const key = (entry: Entry) => `${entry.client ?? ''}:${String(entry.mutation ?? 0).padStart(16, '0')}`;
  return register
    .filter((entry) => entry !== shown && !sameValue(entry.value, shown?.value))
    .toSorted((a, b) => (key(a) < key(b) ? -1 : 1));
}
