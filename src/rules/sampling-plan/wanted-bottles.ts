import type { FillClass } from '../../catalog/analytes/analyte-group.ts';
import { DEFAULT_FILL_ORDER, inFillOrder } from '../../catalog/analytes/fill-orders.ts';
import { SHARED_BOTTLES } from '../../catalog/analytes/shared-bottles.ts';
import type { SamplingPlan } from '../../protocol/sampling-plan.ts';
import { type AskedOfGroup, askedOfGroup } from '../samples/asked-of-group.ts';
import type { SuiteRecord } from '../samples/sample-records.ts';
import { type SuiteBook, suiteLaboratory } from './suite-book.ts';

/** One container that a sample needs. */
export interface Bottle {
  /** Of those that it serves the one whose clock runs out first. */
  readonly group: string;
  readonly alsoGroups: readonly string[];
  /** Null of a temperature blank. */
  readonly suite: string | null;
  readonly type: 'vial' | 'bottle';
  /** Any one of them; the first is ordered. */
  readonly materials: readonly string[];
  readonly colour: 'amber' | null;
  /** Any one of these sets, the first is ordered; a set of none where nothing is added. */
  readonly preservatives: readonly (readonly string[])[];
  readonly volumeMl: number;
  readonly filtered: boolean | null;
  /** Null where neither suite nor plan says it and the firm has not just one. */
  readonly laboratory: string | null;
  readonly fillClass: FillClass | null;
}

export interface BottlesFor {
  /** In the order in which the sample names them. */
  readonly suites: readonly SuiteRecord[];
  readonly plan: SamplingPlan | null;
  readonly well: string | null;
  readonly book: SuiteBook;
}

interface Part {
  readonly asked: AskedOfGroup;
  readonly suite: string;
  readonly laboratory: string | null;
  /** Sets of what is added, of which one is enough; a set of none where nothing is. */
  readonly options: readonly (readonly string[])[];
}

function partsOf({ suites, plan, well, book }: BottlesFor): readonly Part[] {
  const seen = new Set<string>();
  return suites.flatMap((suite) => {
    const { name, groups } = suite.fields;
    return groups.flatMap(({ group }): Part[] => {
      const asked = seen.has(group) ? null : askedOfGroup(group, suite, { plan, well });
      if (!asked) return [];
      seen.add(group);
      const options = asked.preservatives.length === 0 ? [[]] : asked.preservatives;
      return [{ asked, suite: name, laboratory: suiteLaboratory(book, plan, name, group), options }];
    });
  });
}

/** A bottle that the project asks for otherwise than the catalog is ordered as it asks. */
function mayShare({ asked }: Part): boolean {
  return asked.ordered?.reason == null && asked.kind === 'bottle' && asked.count === 1 && asked.colour === 'any';
}

function common<Item>(lists: readonly (readonly Item[])[]): readonly Item[] {
  const [first = [], ...rest] = lists.map((list) => list.map((item) => [JSON.stringify(item), item] as const));
  return first.filter(([key]) => rest.every((list) => list.some(([other]) => other === key))).map(([, item]) => item);
}

function fits(parts: readonly Part[]): boolean {
  const [first] = parts;
  return (
    common(parts.map(({ asked }) => asked.materials)).length > 0 &&
    common(parts.map(({ options }) => options)).length > 0 &&
    parts.every(({ laboratory, asked }) => laboratory === first?.laboratory && asked.filtered === first?.asked.filtered)
  );
}

/** Parts that go into one bottle together; each part is in one of the lists. */
function shared(parts: readonly Part[]): readonly (readonly Part[])[] {
  const left = new Set(parts);
  const together = SHARED_BOTTLES.flatMap(({ groups }) => {
    const bottles: Part[][] = [];
    for (const part of parts.filter((one) => left.has(one) && mayShare(one) && groups.includes(one.asked.group.id))) {
      const bottle = bottles.find((its) => fits([...its, part]));
      if (bottle) bottle.push(part);
      else bottles.push([part]);
    }
    const several = bottles.filter((bottle) => bottle.length > 1);
    for (const part of several.flat()) left.delete(part);
    return several;
  });
  return [...together, ...[...left].map((part) => [part])];
}

function clockMinutes({ asked: { group, ordered } }: Part): number {
  const ofProject = [ordered?.holdingHours, ordered?.extractionHours].filter((hours) => hours != null);
  const variant = group.holding.find(({ id }) => id === ordered?.variant) ?? group.holding[0];
  return Math.min(
    ...ofProject.map((hours) => Number(hours) * 60),
    ...(variant?.limits ?? []).map((one) => one.minutes),
  );
}

/**
 * What one bottle for several groups takes: as much as the largest that each would have alone, and the least of all of
 * them together. Common practice, no source; the laboratory has to agree.
 */
function volumeOf(parts: readonly Part[]): number {
  const least = parts.reduce((sum, { asked }) => sum + asked.leastVolumeMl, 0);
  return Math.max(least, ...parts.map(({ asked }) => asked.volumeMl));
}

function bottlesOf(parts: readonly Part[]): readonly Bottle[] {
  const [first, ...others] = parts.toSorted((a, b) => clockMinutes(a) - clockMinutes(b));
  if (!first) return [];
  const { asked, suite, laboratory } = first;
  const bottle: Bottle = {
    group: asked.group.id,
    alsoGroups: others.map((part) => part.asked.group.id).toSorted(),
    suite,
    type: asked.kind,
    materials: common(parts.map((part) => part.asked.materials)),
    colour: asked.colour === 'amber' ? 'amber' : null,
    preservatives: common(parts.map(({ options }) => options)),
    volumeMl: volumeOf(parts),
    filtered: asked.filtered,
    laboratory,
    fillClass: asked.group.filling.fillClass,
  };
  return Array.from({ length: asked.count }, () => bottle);
}

/** The containers of one sample, in the order in which they are filled; those that the catalog lets share one are one. */
export function bottlesFor(given: BottlesFor): readonly Bottle[] {
  const lists = shared(partsOf(given));
  const order = given.plan?.fillOrder ?? DEFAULT_FILL_ORDER;
  const groups = lists.flat().map(({ asked }) => asked.group);
  const placed = inFillOrder(groups, order, given.plan?.pfas ?? 'first');
  const places = new Map(placed.map(({ group, place }) => [group.id, place]));
  const placeOf = (parts: readonly Part[]) => Math.min(...parts.map(({ asked }) => places.get(asked.group.id) ?? 0));
  return lists.toSorted((a, b) => placeOf(a) - placeOf(b)).flatMap(bottlesOf);
}
