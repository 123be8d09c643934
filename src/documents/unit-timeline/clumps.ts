import { PAGE, type Scale } from './layout.ts';
import type { Bar, Mark, TimelineRow } from './timeline-row.ts';

/** What is drawn as one, because on the page there is no room between. */
export interface Clump<Item> {
  readonly left: number;
  readonly right: number;
  /** Never empty, earliest first. */
  readonly items: readonly Item[];
}

const MOST_LANES = 3;
/** A bar that is narrower than this is merged with its neighbour; wider ones stay apart, whatever the gap. */
const NARROW = 6;

/** Bars that overlap lie in lanes below each other; what finds no lane lies in the last. */
export function lanesOf(bars: readonly Bar[]): readonly (readonly Bar[])[] {
  const lanes: Bar[][] = [];
  const ends: number[] = [];
  for (const bar of bars.toSorted((a, b) => a.fromMs - b.fromMs)) {
    const free = ends.findIndex((end) => end <= bar.fromMs);
    const lane = free >= 0 ? free : Math.min(lanes.length, MOST_LANES - 1);
    lanes[lane] = [...(lanes[lane] ?? []), bar];
    ends[lane] = Math.max(ends[lane] ?? Number.NEGATIVE_INFINITY, bar.untilMs ?? Number.POSITIVE_INFINITY);
  }
  return lanes;
}

/** Bars of one lane as they are drawn: each at least so wide that it is seen. */
export function clumpedBars(bars: readonly Bar[], scale: Scale): readonly Clump<Bar>[] {
  const clumps: { left: number; right: number; items: Bar[] }[] = [];
  for (const bar of bars) {
    const left = Math.min(scale.x(bar.fromMs), PAGE.plotRight - PAGE.leastBar);
    const right = Math.max(scale.x(bar.untilMs ?? Number.POSITIVE_INFINITY), left + PAGE.leastBar);
    const before = clumps.at(-1);
    const isTight = before !== undefined && left < before.right + 0.5;
    const isNarrow = before !== undefined && Math.min(right - left, before.right - before.left) < NARROW;
    if (before && isTight && (isNarrow || left < before.right - 0.5)) {
      before.right = Math.max(before.right, right);
      before.items.push(bar);
    } else clumps.push({ left, right, items: [bar] });
  }
  return clumps;
}

/** Marks that would cover each other are drawn as one. */
export function clumpedMarks(marks: readonly Mark[], scale: Scale): readonly Clump<Mark>[] {
  const clumps: { left: number; right: number; items: Mark[] }[] = [];
  for (const mark of marks.toSorted((a, b) => a.ms - b.ms)) {
    const [left, right] = [scale.x(mark.ms) - PAGE.markHalf, scale.x(mark.ms) + PAGE.markHalf];
    const before = clumps.at(-1);
    if (before && left < before.left + PAGE.markHalf) before.items.push(mark);
    else clumps.push({ left, right, items: [mark] });
  }
  return clumps;
}

/** Whether anything on the page stands for several. */
export function isCrowded(rows: readonly TimelineRow[], scale: Scale): boolean {
  return rows.some(({ bars, marks }) => {
    const clumps = [...lanesOf(bars).flatMap((lane) => clumpedBars(lane, scale)), ...clumpedMarks(marks, scale)];
    return clumps.some(({ items }) => items.length > 1);
  });
}

const MOST_TOLD = 12;

/** Everything that a clump stands for, up to a length that fits on a screen. */
export function tellsOf(items: readonly { readonly tells: string }[]): string {
  if (items.length === 1) return items[0]?.tells ?? '';
  const told = items.slice(0, MOST_TOLD).map(({ tells }) => tells.replaceAll('\n', ', '));
  const more = items.length > MOST_TOLD ? [`and ${items.length - MOST_TOLD} more`] : [];
  return [`${items.length} in one place:`, ...told, ...more].join('\n');
}
