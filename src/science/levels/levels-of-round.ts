import { instantMs } from '../instant-ms.ts';
import { type Refusal, refuse } from '../refusal.ts';

/** A level of a well at a moment; instants are such as 2026-05-04T10:05:00-05:00, already checked for their form. */
export interface RoundLevel {
  readonly well: string;
  readonly at: string;
}

export interface Excluded<L extends RoundLevel> {
  readonly level: L;
  readonly because: string;
}

export interface LevelRound<L extends RoundLevel> {
  /** One level a well, in the order of time. */
  readonly kept: readonly L[];
  readonly excluded: readonly Excluded<L>[];
}

const MS_PER_H = 3_600_000;

/** By time and then by well; two levels of one well at one moment stay as they were given. */
function inOrder<L extends RoundLevel>(levels: readonly L[]): L[] {
  return levels.toSorted(
    (a, b) => instantMs(a.at) - instantMs(b.at) || Number(a.well > b.well) - Number(a.well < b.well),
  );
}

function wellsFrom(ordered: readonly RoundLevel[], startMs: number, spanMs: number): number {
  const inside = ordered.filter((level) => instantMs(level.at) >= startMs && instantMs(level.at) <= startMs + spanMs);
  return new Set(inside.map((level) => level.well)).size;
}

/** The start that takes in the most wells; of equals the earliest, so that the order of the list does not matter. */
function bestStart(ordered: readonly RoundLevel[], spanMs: number): number {
  let best = { startMs: Number.NaN, wells: 0 };
  for (const level of ordered) {
    const startMs = instantMs(level.at);
    const wells = wellsFrom(ordered, startMs, spanMs);
    if (wells > best.wells) best = { startMs, wells };
  }
  return best.startMs;
}

/**
 * The levels that make one round: those within a span of time, one a well (the latest), and the others with the reason
 * why they are left out. Without a given start the span that takes in the most wells counts.
 *
 * Source: all wells of a site preferably within 24 h (EPA Environmental Response Team, SOP 2043, 11 Feb 2000); the plan
 * sets a shorter span where tides or pumps move the water. Limits: a level that was measured within a span is no less
 * wrong for a well that still recovers from purging; wait 24 h (EPA, RCRA ground-water monitoring, 1992, p. 7-4).
 *
 * @param spanH in hours, above 0
 * @param startsAt beginning of the round of the plan
 * @example levelsOfRound([{ well: 'MW-1', at: '2026-05-04T08:00:00Z' }, { well: 'MW-2', at: '2026-05-06T08:00:00Z' }], 24)
 */
export function levelsOfRound<L extends RoundLevel>(
  levels: readonly L[],
  spanH: number,
  startsAt?: string,
): LevelRound<L> | Refusal {
  if (!(spanH > 0)) return refuse(`A span of ${spanH} h has no levels in it: give one above 0, such as 24.`);
  const ordered = inOrder(levels);
  const startMs = startsAt === undefined ? bestStart(ordered, spanH * MS_PER_H) : instantMs(startsAt);
  const isInside = (level: L) => instantMs(level.at) >= startMs && instantMs(level.at) <= startMs + spanH * MS_PER_H;
  const latest = new Map(ordered.filter(isInside).map((level) => [level.well, level]));
  const excluded = ordered.flatMap((level) => {
    if (!isInside(level))
      return [{ level, because: `${level.well} at ${level.at} is outside the ${spanH} h of the round` }];
    if (latest.get(level.well) === level) return [];
    return [{ level, because: `${level.well} at ${level.at} was measured again within the round` }];
  });
  return { kept: ordered.filter((level) => latest.get(level.well) === level), excluded };
}
