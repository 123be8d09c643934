import { instantMs } from '../../science/instant-ms.ts';
import type { HandOverRecord } from '../samples/sample-records.ts';
import { CLOCKS_DIFFER_MIN, minutesFrom } from './clocks.ts';
import { isSameName } from './same-person.ts';

/** The two sides of one change of custody; one is missing where nobody recorded it. */
export interface HandOverPair {
  readonly number: number | null;
  readonly relinquished: HandOverRecord | null;
  readonly received: HandOverRecord | null;
}

export interface HandOverPairs {
  /** By time; within what two clocks may differ by, from hand to hand. */
  readonly pairs: readonly HandOverPair[];
  /** One side of one number is there more than once: those that were left to be paired by time. */
  readonly twice: readonly HandOverRecord[];
}

/** Received before it was given by more than this belongs to no pair: two sides are missing instead. Own choice, no source. */
const MOST_MINUTES_BEFORE = 12 * 60;

function startOf({ relinquished, received }: HandOverPair): string {
  return relinquished?.fields.at ?? received?.fields.at ?? '';
}

function idOf({ relinquished, received }: HandOverPair): string {
  return relinquished?.id ?? received?.id ?? '';
}

function byNumber(handOvers: readonly HandOverRecord[]) {
  const pairs: HandOverPair[] = [];
  const twice: HandOverRecord[] = [];
  const numbers = new Set(handOvers.flatMap(({ fields }) => fields.number ?? []));
  for (const number of numbers) {
    const its = handOvers.filter(({ fields }) => fields.number === number);
    const [given = null, ...moreGiven] = its.filter(({ fields }) => fields.side === 'relinquished');
    const [taken = null, ...moreTaken] = its.filter(({ fields }) => fields.side === 'received');
    pairs.push({ number, relinquished: given, received: taken });
    twice.push(...moreGiven, ...moreTaken);
  }
  return { pairs, twice };
}

interface Candidate {
  readonly given: HandOverRecord;
  readonly taken: HandOverRecord;
  readonly minutes: number;
  /** How little it fits between the others, by the names: 0 where it leads on. */
  readonly misfit: number;
}

/** What was received after it was given comes first, the nearer in time before the farther; names, then ids decide between equals. */
function inOrder(a: Candidate, b: Candidate): number {
  const late = Number(a.minutes < -CLOCKS_DIFFER_MIN) - Number(b.minutes < -CLOCKS_DIFFER_MIN);
  const key = ({ given, taken }: Candidate) => `${given.id} ${taken.id}`;
  return late || Math.abs(a.minutes) - Math.abs(b.minutes) || a.misfit - b.misfit || (key(a) < key(b) ? -1 : 1);
}

/** Nobody gives to themselves; from who only gives straight to who only receives nothing leads through the others. */
function misfit({ fields: giver }: HandOverRecord, { fields: taker }: HandOverRecord, all: readonly HandOverRecord[]) {
  if (giver.to != null && isSameName(giver.to, taker.name)) return -1;
  if (isSameName(giver.name, taker.name)) return 2;
  const has = (side: string, name: string) =>
    all.some(({ fields }) => fields.side === side && isSameName(fields.name, name));
  return has('received', giver.name) || has('relinquished', taker.name) ? 0 : 1;
}

function byTime(left: readonly HandOverRecord[]): HandOverPair[] {
  const given = left.filter(({ fields }) => fields.side === 'relinquished');
  const taken = left.filter(({ fields }) => fields.side === 'received');
  const candidates = given.flatMap((one) =>
    taken.map((other) => {
      const minutes = minutesFrom(one.fields.at, other.fields.at);
      return { given: one, taken: other, minutes, misfit: misfit(one, other, left) };
    }),
  );
  const used = new Set<HandOverRecord>();
  const pairs: HandOverPair[] = [];
  for (const one of candidates.filter(({ minutes }) => minutes >= -MOST_MINUTES_BEFORE).toSorted(inOrder)) {
    if (used.has(one.given) || used.has(one.taken)) continue;
    used.add(one.given).add(one.taken);
    pairs.push({ number: null, relinquished: one.given, received: one.taken });
  }
  const alone = left.filter((one) => !used.has(one));
  return [
    ...pairs,
    ...alone.map((one): HandOverPair => {
      const isGiven = one.fields.side === 'relinquished';
      return { number: null, relinquished: isGiven ? one : null, received: isGiven ? null : one };
    }),
  ];
}

function isFrom(pair: HandOverPair, before: HandOverPair | undefined): boolean {
  const [giver, taker] = [pair.relinquished?.fields.name, before?.received?.fields.name];
  return giver !== undefined && taker !== undefined && isSameName(giver, taker);
}

/**
 * Times that are equal, or as near as two clocks may differ, say nothing of which came first: there who received it is the
 * next to give it on, and whoever gives it without having received it comes before those.
 *
 * @param pairs by time
 */
function fromHandToHand(pairs: readonly HandOverPair[]): readonly HandOverPair[] {
  const left = [...pairs];
  const ordered: HandOverPair[] = [];
  for (let [first] = left; first; [first] = left) {
    const from = startOf(first);
    const near = left.filter((one) => minutesFrom(from, startOf(one)) <= CLOCKS_DIFFER_MIN);
    const isFirst = (one: HandOverPair) => !near.some((other) => other !== one && isFrom(one, other));
    const next = near.find((one) => isFrom(one, ordered.at(-1))) ?? near.find(isFirst) ?? first;
    ordered.push(next);
    left.splice(left.indexOf(next), 1);
  }
  return ordered;
}

/**
 * Puts both sides of each change of custody together: by the number that both have, and what has none by time. What has a
 * number that no other side has stays alone: a number that was told is not guessed away.
 *
 * @param handOvers of one cooler, by time
 */
export function handOverPairs(handOvers: readonly HandOverRecord[]): HandOverPairs {
  const numbered = byNumber(handOvers);
  const rest = [...handOvers.filter(({ fields }) => fields.number == null), ...numbered.twice];
  const pairs = [...numbered.pairs, ...byTime(rest)].toSorted(
    (a, b) =>
      instantMs(startOf(a)) - instantMs(startOf(b)) ||
      (a.number ?? 0) - (b.number ?? 0) ||
      (idOf(a) < idOf(b) ? -1 : 1),
  );
  return { pairs: fromHandToHand(pairs), twice: numbered.twice };
}
