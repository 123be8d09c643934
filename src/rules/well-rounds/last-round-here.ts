import { z } from 'zod';
import { decimal, id, instant, text } from '../../protocol/primitives.ts';
import { refuse } from '../../science/refusal.ts';
import { unanswered } from '../questions/answered.ts';
import { lastRound } from '../questions/last-round.ts';
import { convertedText, leftOut, type RoundToday, roundsToday } from './depths-of-round.ts';
import type { VisitSummary, WellRecords } from './well-records.ts';

/** What everybody who asks about earlier rounds may say of today. */
export const todayFields = {
  measuringPoint: id.optional().describe('From where depths are measured today; the newest valid one where not given'),
  exceptEvent: id.optional().describe('The event that is under way: what was done in it is no earlier round'),
};

export const lastRoundInput = z.strictObject({
  depthToWaterFt: decimal.optional().describe('Today, before pumping'),
  depthToBottomFt: decimal.optional().describe('Today; that of the last round where not sounded'),
  bottomClearanceFt: decimal.optional().describe('Of the plan; 2 ft where it says nothing'),
  ...todayFields,
});
export type LastRoundGiven = z.output<typeof lastRoundInput> & { readonly at: string };

export const lastRoundHereOutput = lastRound.output.extend({
  visit: id.nullable(),
  event: id.nullable(),
  eventName: text().nullable(),
  arrived: instant.nullable(),
  leftOut: z.array(leftOut).describe('Depths that cannot be told below the measuring point of today'),
});
export type LastRoundHere = z.output<typeof lastRoundHereOutput>;

const NOTHING = {
  intakeDepthFt: null,
  intakeFits: null,
  flowMlPerMin: null,
  drivePressurePsi: null,
  refillS: null,
  dischargeS: null,
  purgeMin: null,
  wentDry: false,
  visit: null,
  event: null,
  eventName: null,
  arrived: null,
};

/** A round of levels says nothing of how to hang a pump. */
function wasPumped({ pump, flowMlPerMin, purgeMin, wentDry }: VisitSummary): boolean {
  return wentDry || [pump, flowMlPerMin, purgeMin].some((field) => field !== undefined);
}

function lastOf(rounds: readonly RoundToday[]): RoundToday | undefined {
  return rounds.find(({ round }) => wasPumped(round)) ?? rounds[0];
}

/** What was done at this well last round, in depths below the measuring point of today. */
export function lastRoundHere(records: WellRecords, given: LastRoundGiven): LastRoundHere {
  const { depthToWaterFt, depthToBottomFt, bottomClearanceFt, exceptEvent } = given;
  const found = lastOf(roundsToday(records, given).filter(({ round }) => round.event !== exceptEvent));
  if (found === undefined) {
    const none = refuse('No earlier visit of this well that ended is known: there is no last round to go by.');
    return { ...NOTHING, ...unanswered(none, lastRound.sources), leftOut: [] };
  }
  const { well: _, ...last } = found.round;
  const { reasons, ...answer } = lastRound.answer({ last, depthToWaterFt, depthToBottomFt, bottomClearanceFt });
  const { visit, event, eventName, arrived } = last;
  const said = [...reasons, ...convertedText([found])];
  return { ...answer, reasons: said, visit, event, eventName, arrived, leftOut: [...found.leftOut] };
}
