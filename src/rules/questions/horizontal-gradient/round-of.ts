import { LEVEL_RULES } from '../../../catalog/levels/level-rules.ts';
import { instantMs } from '../../../science/instant-ms.ts';
import { type Excluded, type LevelRound, levelsOfRound } from '../../../science/levels/levels-of-round.ts';
import { isRefusal, type Refusal, refuse } from '../../../science/refusal.ts';
import type { GradientInput, GradientLevel } from './gradient-input.ts';

/** More than one of something that must be one: zones, datums. A level without it is not compared. */
function mixed(levels: readonly GradientLevel[], of: (level: GradientLevel) => string | undefined): string | undefined {
  const names = [...new Set(levels.flatMap((level) => of(level) ?? []))].toSorted();
  return names.length > 1 ? names.join(', ') : undefined;
}

const MS_PER_H = 3_600_000;

/** Levels of wells that still recover: measured after pumping, and too soon. */
function recovering(levels: readonly GradientLevel[]): Excluded<GradientLevel>[] {
  const waitH = Number(LEVEL_RULES.waitAfterPurgingH.value);
  return levels.flatMap((level) => {
    if (level.lastPumpedAt === undefined) return [];
    const sinceMs = instantMs(level.at) - instantMs(level.lastPumpedAt);
    if (sinceMs < 0 || sinceMs >= waitH * MS_PER_H) return [];
    return [{ level, because: `${level.well} at ${level.at} was measured less than ${waitH} h after pumping` }];
  });
}

/** The levels that can be compared, or why none can: mixed zones and datums are not sorted out by guessing. */
export function roundOf(given: GradientInput): LevelRound<GradientLevel> | Refusal {
  if (given.isTidal && given.roundSpanH === undefined)
    return refuse(
      `Tides move these wells, so ${LEVEL_RULES.roundSpanH.value} h are too long: give the span of the plan, or mean levels over the tides.`,
    );
  const spanH = Number(given.roundSpanH ?? LEVEL_RULES.roundSpanH.value);
  const tooSoon = recovering(given.levels);
  const rested = given.levels.filter((level) => !tooSoon.some((one) => one.level === level));
  const round = levelsOfRound(rested, spanH, given.roundStartsAt);
  if (isRefusal(round)) return round;
  const zones = mixed(round.kept, (level) => level.zone);
  if (zones !== undefined)
    return refuse(`These wells are screened in more than one zone (${zones}): ask for each zone by itself.`);
  const datums = mixed(round.kept, (level) => level.verticalDatum);
  if (datums !== undefined)
    return refuse(`These heads are of more than one vertical datum (${datums}): convert them to one first.`);
  return { kept: round.kept, excluded: [...tooSoon, ...round.excluded] };
}
