import { byKey } from './by-key.ts';
import { compareMoments, type Moment } from './moment.ts';

/** Something that happened, with what it is after and before where only the minute is known. */
export interface Ranked {
  readonly moment: Moment;
  /** Lower ones come first within one minute. */
  readonly rank: number;
  /** What begins or ends with it: nothing ends before it has begun. */
  readonly begins?: object;
  readonly ends?: object;
}

function compareRanked(a: Ranked, b: Ranked): number {
  return a.moment.ms - b.moment.ms || a.rank - b.rank || compareMoments(a.moment, b.moment);
}

/** Null of an end that came later than its beginning. */
const sequenceOf = ({ moment }: Ranked) => moment.own?.sequence ?? null;

/**
 * Those of one device as it captured them. An end without a stamp goes behind its beginning, before what was captured
 * at that second or later.
 */
function ofDevice<Step extends Ranked>(sorted: readonly Step[]): Step[] {
  const stamped = sorted
    .filter((step) => sequenceOf(step) !== null)
    .sort((a, b) => (sequenceOf(a) ?? 0) - (sequenceOf(b) ?? 0) || compareRanked(a, b));
  const before = new Map<number, Step[]>();
  const ends = sorted.filter((step) => sequenceOf(step) === null);
  for (const end of ends.sort((a, b) => (a.moment.own?.wallMs ?? 0) - (b.moment.own?.wallMs ?? 0))) {
    const begun = stamped.findIndex(({ begins }) => begins !== undefined && begins === end.ends);
    const at = stamped.findIndex((one, place) => place > begun && isNotBefore(one, end));
    const place = at < 0 ? stamped.length : at;
    before.set(place, [...(before.get(place) ?? []), end]);
  }
  return [...stamped, null].flatMap((step, place) => [...(before.get(place) ?? []), ...(step === null ? [] : [step])]);
}

function isNotBefore(a: Ranked, b: Ranked): boolean {
  return (a.moment.own?.wallMs ?? 0) >= (b.moment.own?.wallMs ?? 0);
}

/** By boot; where two clients say that they captured in one boot, each for itself. */
function devicesOf<Step extends Ranked>(sorted: readonly Step[]): readonly (readonly Step[])[] {
  const boots = byKey(sorted, ({ moment }) => moment.own?.boot);
  return [...boots.values()].flatMap((steps) => {
    // what changed since names the client of the change
    const sure = new Set(steps.flatMap(({ moment: { own } }) => (own && !own.hasChanged ? [own.client] : [])));
    return sure.size <= 1 ? [steps] : [...byKey(steps, ({ moment }) => moment.own?.client).values()];
  });
}

/** Takes what ranks first among those that are next of their device, so that no device's own order is broken. */
function merged<Step extends Ranked>(lists: readonly Step[][], sorted: readonly Step[]): readonly Step[] {
  const place = new Map(sorted.map((step, at) => [step, at]));
  const toBegin = new Set(sorted.map(({ begins }) => begins));
  const weight = (step: Step) =>
    (place.get(step) ?? 0) + (step.ends !== undefined && toBegin.has(step.ends) ? sorted.length : 0);
  const done: Step[] = [];
  while (done.length < sorted.length) {
    const heads = lists.filter((list) => list.length > 0);
    const first = heads.reduce((a, b) => (weight(b[0] as Step) < weight(a[0] as Step) ? b : a)).shift() as Step;
    toBegin.delete(first.begins);
    done.push(first);
  }
  return done;
}

function minuteInOrder<Step extends Ranked>(sorted: readonly Step[]): readonly Step[] {
  const lists = devicesOf(sorted).map(ofDevice);
  if (lists.every(({ length }) => length === 1)) return sorted;
  return merged([...lists, ...sorted.filter(({ moment }) => moment.own === null).map((step) => [step])], sorted);
}

/**
 * Earliest first. Within one minute what one device took from its clock goes in the order in which it was captured; the
 * rest, between devices and from paper, by rank and then by record, so that the order of arrival makes no difference.
 */
export function inOrderOfTime<Step extends Ranked>(steps: readonly Step[]): readonly Step[] {
  const minutes = byKey(steps.toSorted(compareRanked), ({ moment }) => String(moment.ms));
  return [...minutes.values()].flatMap((minute) => (minute.length === 1 ? minute : minuteInOrder(minute)));
}

/** Things that each happened at one moment, in that same order. */
export function earliestFirst<Item>(items: readonly Item[], when: (item: Item) => Moment): readonly Item[] {
  return inOrderOfTime(items.map((item) => ({ item, moment: when(item), rank: 0 }))).map(({ item }) => item);
}
