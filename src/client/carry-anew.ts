import type { Mutation } from '../protocol/mutation.ts';
import { derivedId } from '../rules/derived-id.ts';
import { baseInValues } from './base.ts';
import { baseOverAnew, type Earlier } from './base-anew.ts';
import { mutationKey } from './contents.ts';
import type { Base } from './own-values.ts';
import type { CarriedEntry, Change } from './store.ts';

/** Null for a line that nobody can read: a copy passes on what there is. */
export function mutationIn({ line }: CarriedEntry): Mutation | null {
  try {
    return JSON.parse(line) as Mutation;
  } catch {
    return null;
  }
}

interface Moving {
  readonly from: CarriedEntry;
  readonly to: CarriedEntry;
}

/** What the copy has of the same record and client from before a line, in order. */
export function carriedBefore({ mutationId }: CarriedEntry, id: string, own: readonly CarriedEntry[]) {
  const before = own.filter((one) => one.mutationId < mutationId).sort((a, b) => a.mutationId - b.mutationId);
  return before.flatMap((entry) => {
    const mutation = mutationIn(entry);
    return mutation?.id === id ? [{ entry, mutation }] : [];
  });
}

/**
 * Why lines go by another client id: their numbers were used by another memory of their phone, or the revisions that
 * they cite are of another history than the one that the server has now.
 */
export type CarryAnew = 'used-twice' | 'other-history';

/** What the id that follows from the first line is made for: the same line may be said anew for either reason. */
const MADE_FOR: Readonly<Record<CarryAnew, string>> = {
  'used-twice': 'carried anew',
  'other-history': 'carried anew in values',
};

interface Move {
  readonly own: readonly CarriedEntry[];
  readonly moving: readonly CarriedEntry[];
  readonly client: string;
  readonly why: CarryAnew;
}

/** In values a line cites no revision, and so no history. */
function citing({ seen, ...entry }: CarriedEntry, why: CarryAnew): CarriedEntry {
  return seen === undefined || why === 'other-history' ? entry : { ...entry, seen };
}

/** Numbered from 1 under another client id; what nobody can read stays as it is, for the server to keep. */
function moved({ own, moving, client, why }: Move): Moving[] {
  const numbers = new Map(moving.map(({ mutationId }, at) => [mutationId, at + 1]));
  const baseFor = (entry: CarriedEntry, mutation: Mutation): Base | undefined => {
    const { base, id } = mutation;
    if (base === undefined || 'was' in base) return base;
    const was = entry.was ?? null;
    if ('rev' in base && why === 'other-history') return baseInValues(was);
    if ('rev' in base) {
      const earlier = carriedBefore(entry, id, own).map(({ entry: { outcome, mutationId }, ...one }): Earlier => {
        return { ...one, outcome, moves: numbers.has(mutationId) };
      });
      return baseOverAnew(base, { mutation, was }, earlier);
    }
    const after = numbers.get(base.after);
    // the answer to a line that stays may be of a history that is gone, and no copy says in which one it was given
    return after === undefined ? baseInValues(was) : { after };
  };
  return moving.map((from, at) => {
    const mutation = mutationIn(from);
    const mutationId = at + 1;
    const line = mutation ? JSON.stringify({ ...mutation, mutationId, base: baseFor(from, mutation) }) : from.line;
    return { from, to: { ...citing(from, why), client, mutationId, line, outcome: null } };
  });
}

function saysTheSame(a: CarriedEntry, b: CarriedEntry): boolean {
  const [one, other] = [a, b].map((entry) => ({ ...mutationIn(entry), base: undefined }));
  return a.line === b.line || (mutationIn(a) !== null && JSON.stringify(one) === JSON.stringify(other));
}

/**
 * Another memory of that phone (a backup of it on its replacement) has used the numbers from `first` on for other work,
 * or the server, which does not have them, has another history than the one in which their authors saw what they cite.
 * They are numbered anew under a client id of their own, and what was observed, by whom and when stays as it was
 * captured. That id follows from the first line, so it is the same for every partner who carries the copy, and the lines
 * have one effect whoever hands them in. Not under the numbers that they have: their phone may be alive, and says them
 * under those.
 */
export function carryAnew(
  carried: readonly CarriedEntry[],
  client: string,
  first: number,
  why: CarryAnew = 'used-twice',
): Change[] {
  const own = carried.filter((entry) => entry.client === client);
  const moving = own.filter(({ mutationId }) => mutationId >= first).sort((a, b) => a.mutationId - b.mutationId);
  const [begin] = moving;
  if (!begin) return [];
  const lines = moved({ own, moving, client: derivedId(client, MADE_FOR[why], begin.line), why });
  const held = new Map(carried.map((entry) => [mutationKey(entry), entry]));
  const isHeld = ({ to }: Moving) => held.get(mutationKey(to));
  // An earlier copy was numbered anew, and its phone went another way from here. Where only the base differs, that copy
  // did not say what was on the screen: the line may have been handed in as it is held.
  const fork = lines.findIndex((one) => !saysTheSame(isHeld(one) ?? one.to, one.to));
  const plain = fork < 0 ? lines : lines.slice(0, fork);
  const changes = plain.flatMap((one): Change[] => [
    { drop: 'carried', client, mutationId: one.from.mutationId },
    ...(isHeld(one) === undefined ? [{ put: 'carried' as const, carried: one.to }] : []),
  ]);
  const next = lines[fork]?.from.mutationId;
  // never at the first line, by which the id goes: the end is sure
  if (next === undefined || fork === 0) return changes;
  return [...changes, ...carryAnew(carried, client, next, why)];
}
