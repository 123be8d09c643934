import { SAMPLING_RULES } from '../../../catalog/analytes/sampling-rules.ts';
import { allotWater } from '../../../science/samples/allot-water.ts';

/** Containers of one kind that wait for water: how many of how much, and the least that still gives a result. */
export interface WaterLine {
  /** Unique among the lines. */
  readonly key: string;
  readonly title: string;
  readonly count: number;
  readonly volumeMl: number;
  /** None where enough of them are full already. */
  readonly leastCount: number;
  readonly leastVolumeMl: number;
  /** Compared number by number, the lowest first. */
  readonly priority: readonly number[];
  /** Of use only beside samples that are whole: it comes after all others. */
  readonly isLast?: boolean;
}

export interface SharedLine<Line extends WaterLine = WaterLine> {
  readonly line: Line;
  /** From 1, the most important first. */
  readonly turn: number;
  readonly share: 'whole' | 'reduced' | 'none';
  readonly fillCount: number;
  /** Into each of them. */
  readonly fillVolumeMl: number;
  readonly because: string;
}

export interface SharedWater<Line extends WaterLine = WaterLine> {
  readonly neededMl: number;
  readonly availableMl: number;
  readonly usedMl: number;
  /** In their turns. */
  readonly lines: readonly SharedLine<Line>[];
}

function comparePriority(a: WaterLine, b: WaterLine): number {
  const length = Math.max(a.priority.length, b.priority.length);
  for (let at = 0; at < length; at += 1) {
    const difference = (a.priority[at] ?? 0) - (b.priority[at] ?? 0);
    if (difference !== 0) return difference;
  }
  return a.key < b.key ? -1 : 1;
}

function because(line: WaterLine, share: SharedLine['share'], count: number, volumeMl: number): string {
  const least = `${Math.max(1, line.leastCount)} of ${line.leastVolumeMl} mL`;
  if (share === 'whole') return 'There is water for all of it.';
  if (share === 'reduced') return `${count} of ${volumeMl} mL: the least that gives a result is ${least}.`;
  return `What is left is less than the least that gives a result, ${least}: filled with less it is lost to the next.`;
}

function shareAmong<Line extends WaterLine>(
  lines: readonly Line[],
  availableMl: number,
  from: number,
): SharedLine<Line>[] {
  const sorted = lines.toSorted(comparePriority);
  const shares = allotWater(
    sorted.map(({ key, leastCount, ...line }) => ({ ...line, id: key, leastCount: Math.max(1, leastCount) })),
    availableMl,
  );
  return sorted.map((line, at) => {
    const { share = 'none', count = 0, volumeMl = 0 } = shares[at] ?? {};
    const why = because(line, share, count, volumeMl);
    return { line, turn: from + at, share, fillCount: count, fillVolumeMl: volumeMl, because: why };
  });
}

function used(lines: readonly SharedLine[]): number {
  return lines.reduce((sum, one) => sum + one.fillCount * one.fillVolumeMl, 0);
}

/**
 * What to fill where the well gives less than all containers take, by the priority of the plan: each gets the least that
 * can be analysed in its turn, what is left then fills them up in the same order. Of what has enough already the rest
 * comes after all of these.
 *
 * Source: common practice, no source; the priorities of the plan decide.
 */
export function shareWater<Line extends WaterLine>(lines: readonly Line[], given: number): SharedWater<Line> {
  const availableMl = Math.max(0, Math.floor(given));
  const steps = [
    lines.filter(({ leastCount, isLast }) => leastCount >= 1 && isLast !== true),
    lines.filter(({ leastCount, isLast }) => leastCount < 1 && isLast !== true),
    lines.filter(({ isLast }) => isLast === true),
  ];
  const all: SharedLine<Line>[] = [];
  for (const step of steps) all.push(...shareAmong(step, availableMl - used(all), all.length + 1));
  const neededMl = lines.reduce((sum, { count, volumeMl }) => sum + count * volumeMl, 0);
  return { neededMl, availableMl, usedMl: used(all), lines: all };
}

export const WHO_AGREES =
  'Whoever ordered the analyses agrees before a container is dropped: the coordinator of the event, or whom the plan names. The record of the container says why it was dropped and who agreed.';

export const SHORT_WATER_SOURCES: readonly string[] = [SAMPLING_RULES.whenShort.source];

/** In one sentence for a person at the well. */
export function sharedText({ neededMl, availableMl, usedMl, lines }: SharedWater): string {
  const of = (share: SharedLine['share']) => lines.filter((one) => one.share === share).map(({ line }) => line.title);
  // the titles of groups have commas of their own
  const parts = [
    ['Whole', of('whole')],
    ['Less than planned', of('reduced')],
    ['Dropped', of('none')],
  ] as const;
  const told = parts.flatMap(([how, titles]) => (titles.length > 0 ? [` ${how}: ${titles.join('; ')}.`] : []));
  return `With ${availableMl} mL of the ${neededMl} mL needed ${usedMl} mL are filled.${told.join('')}`;
}
