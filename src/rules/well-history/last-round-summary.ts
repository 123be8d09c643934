import { z } from 'zod';
import { call } from '../../protocol/kinds/call.ts';
import type { READING_QUANTITIES } from '../../protocol/kinds/reading.ts';
import { UNIT_TYPES } from '../../protocol/kinds/unit.ts';
import { VISIT_OUTCOMES, visit } from '../../protocol/kinds/visit.ts';
import { decimal, id, instant, text } from '../../protocol/primitives.ts';

const measured = decimal.optional();

/** The last values of the purge that the next crew looks for. */
export const LAST_VALUES = [
  'temperatureC',
  'ph',
  'specificConductanceUsPerCm',
  'dissolvedOxygenMgPerL',
  'orpMv',
  'turbidityNtu',
  'turbidityFnu',
] as const satisfies readonly (keyof typeof READING_QUANTITIES)[];

/**
 * What the next crew at a well wants to know of the last one: how the pump hung and ran, how the water behaved, and how
 * it ended. Small, plain and complete in itself, so that it can travel with the well and be read without a signal.
 */
export const lastRoundSummary = z.strictObject({
  event: id,
  eventName: text(),
  visit: id,
  arrived: instant,
  method: visit.fields.shape.method,
  outcome: z.enum(VISIT_OUTCOMES).optional(),
  measuringPoint: id.optional().describe('Of the level before pumping: depths compare only below the same point'),
  depthToWaterFt: measured.describe('Before pumping'),
  lowestDepthToWaterFt: measured.describe('While pumping'),
  depthToBottomFt: measured.describe('As last sounded'),
  pump: id.optional(),
  pumpType: z.enum(UNIT_TYPES).optional(),
  intakeDepthFt: measured.describe('Not given where it was moved without saying where to'),
  tubingInsideDiameterIn: measured,
  tubingLengthFt: measured,
  drivePressurePsi: measured,
  refillS: measured,
  dischargeS: measured,
  flowMlPerMin: measured.describe('The last one of the purge'),
  purgedMl: decimal.optional().describe('As last read, or as the assessment made it of flows'),
  purgeMin: decimal.optional().describe('From the first water to the end of the purge or its last reading'),
  wentDry: z.boolean().describe('The well gave no more water, or had none'),
  criteria: text(64).optional().describe('The criteria set that the purge was assessed by'),
  criteriaEdition: text().optional(),
  stable: z.boolean().optional().describe('What the assessment said at the last reading'),
  minutesToStableMin: decimal.optional().describe('From the first water until the criteria were met'),
  call: call.fields.shape.decision.optional().describe('What the person decided, the last time'),
  temperatureC: measured,
  ph: measured,
  specificConductanceUsPerCm: measured,
  dissolvedOxygenMgPerL: measured,
  orpMv: measured,
  turbidityNtu: measured,
  turbidityFnu: measured,
});

export type LastRoundSummary = Readonly<z.output<typeof lastRoundSummary>>;
