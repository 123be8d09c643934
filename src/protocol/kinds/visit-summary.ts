import { z } from 'zod';
import { defineKind } from '../kind.ts';
import { decimal, id, instant, text } from '../primitives.ts';
import { call } from './call.ts';
import { UNIT_TYPES } from './unit.ts';
import { VISIT_OUTCOMES, visit } from './visit.ts';

const measured = decimal.optional();
/** A computed volume may have more digits than a measurement has. */
const figure = z
  .string()
  .regex(/^-?\d+(?:\.\d+)?$/, { error: 'is not a decimal string' })
  .optional();

/**
 * What the next crew at a well wants to know of the last one: how the pump hung and ran, how the water behaved, and how
 * it ended. Small, plain and complete in itself, so that it can travel with the well and be read without a signal.
 */
export const ROUND_SUMMARY = {
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
  bottomMeasuringPoint: id.optional().describe('Of the depth to the bottom'),
  pump: id.optional(),
  pumpType: z.enum(UNIT_TYPES).optional(),
  intakeDepthFt: measured.describe('Not given where it was moved without saying where to'),
  tubingInsideDiameterIn: measured,
  tubingLengthFt: measured,
  drivePressurePsi: measured,
  refillS: measured,
  dischargeS: measured,
  flowMlPerMin: measured.describe('The last one of the purge'),
  purgedMl: figure.describe('As last read, or as the assessment made it of flows'),
  purgeMin: figure.describe('From the first water to the end of the purge or its last reading'),
  wentDry: z.boolean().describe('The well gave no more water, or had none'),
  criteria: text(64).optional().describe('The criteria set that the purge was assessed by'),
  criteriaEdition: text().optional(),
  stable: z.boolean().optional().describe('What the assessment said at the last reading'),
  minutesToStableMin: figure.describe('From the first water until the criteria were met'),
  call: call.fields.shape.decision.optional().describe('What the person decided, the last time'),
  temperatureC: measured,
  ph: measured,
  specificConductanceUsPerCm: measured,
  dissolvedOxygenMgPerL: measured,
  orpMv: measured,
  turbidityNtu: measured,
  turbidityFnu: measured,
} as const;

export const visitSummary = defineKind({
  name: 'visit-summary',
  plural: 'visit-summaries',
  family: 'derived',
  description:
    'What a visit that ended gave: it lives beside its well in the feed of the site, so that the next crew has it without a signal.',
  home: { in: 'parent', field: 'well', visit: 'visit' },
  references: { well: 'well', visit: 'visit', event: 'event', measuringPoint: 'measuring-point', pump: 'unit' },
  writers: [],
  fields: { well: id, ...ROUND_SUMMARY },
});
