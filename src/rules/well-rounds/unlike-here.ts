import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import { unlikeThisWell } from '../questions/unlike-this-well.ts';
import { convertedText, leftOut, roundsToday } from './depths-of-round.ts';
import { todayFields } from './last-round-here.ts';
import type { VisitSummary, WellRecords } from './well-records.ts';

export const unlikeInput = z.strictObject({
  depthToBottomFt: decimal.optional().describe('As sounded'),
  depthToWaterFt: decimal.optional().describe('Before pumping'),
  ph: decimal.optional().describe('Of the last reading of the purge'),
  specificConductanceUsPerCm: decimal.optional().describe('At 25 °C, of the last reading of the purge'),
  ...todayFields,
});
export type UnlikeGiven = z.output<typeof unlikeInput> & { readonly at: string };

export const unlikeHereOutput = unlikeThisWell.output.extend({
  leftOut: z.array(leftOut).describe('Depths of earlier rounds that cannot be compared with those of today'),
});
export type UnlikeHere = z.output<typeof unlikeHereOutput>;

const COMPARED = ['depthToBottomFt', 'depthToWaterFt', 'ph', 'specificConductanceUsPerCm'] as const;
type Compared = Partial<Record<(typeof COMPARED)[number], string>>;

/** One entry an event: a well that was gauged on Monday and sampled on Tuesday had one round, and the later figure counts. */
function oneEachEvent(newestFirst: readonly VisitSummary[]): readonly Compared[] {
  const rounds = new Map<string, Compared>();
  for (const visit of newestFirst) {
    const round = rounds.get(visit.event) ?? {};
    rounds.set(visit.event, round);
    for (const field of COMPARED) {
      const value = visit[field];
      if (value !== undefined) round[field] ??= value;
    }
  }
  return [...rounds.values()];
}

/** Whether what was just measured is unlike what the stored earlier rounds of this well gave. */
export function unlikeHere(records: WellRecords, given: UnlikeGiven): UnlikeHere {
  const { at: _, measuringPoint: __, exceptEvent, ...now } = given;
  const rounds = roundsToday(records, given).filter(({ round }) => round.event !== exceptEvent);
  const earlierRounds = [...oneEachEvent(rounds.map(({ round }) => round))];
  const { reasons, ...answer } = unlikeThisWell.answer({ ...now, earlierRounds });
  const depths = (['depthToBottomFt', 'depthToWaterFt'] as const).filter((field) => now[field] !== undefined);
  const left = rounds.flatMap((round) => round.leftOut.filter(({ field }) => depths.some((depth) => depth === field)));
  const converted = depths.length === 0 ? [] : convertedText(rounds);
  return { ...answer, reasons: [...reasons, ...converted], leftOut: left };
}
