import { z } from 'zod';
import { CHECK_PARAMETERS } from '../../catalog/calibration/check-limit-set.ts';
import { CONDUCTIVITY_STANDARD_IDS } from '../../catalog/standards/conductivity-standards.ts';
import { PH_BUFFER_IDS } from '../../catalog/standards/ph-buffers.ts';
import { REFERENCE_ELECTRODE_IDS } from '../../catalog/standards/reference-electrodes.ts';
import { ZOBELL_TABLE_IDS } from '../../catalog/standards/zobell-tables.ts';
import { CHECK_BASES, calibrationPlan, PERCENT_OF, STRICTNESSES } from '../../protocol/calibration-plan.ts';
import { CHECK_ACTS, CONDUCTANCE_SHOWN, DAY_PARTS, TURBIDITY_UNITS } from '../../protocol/kinds/calibration-check.ts';
import { decimal, instant, text } from '../../protocol/primitives.ts';
import { stationFields } from '../chemistry/station-fields.ts';
import type { CalibrationCheck } from './check.ts';

/** How questions take a calibration check: flat, as a form has it. */
export const checkInput = z.strictObject({
  id: text(64).describe('Names the check in the answer'),
  meter: text(64).describe('Which meter'),
  parameter: z.enum(CHECK_PARAMETERS).describe('zero-oxygen: the oxygen sensor in water without oxygen'),
  act: z.enum(CHECK_ACTS).describe('Set to the standard, or the standard read as if it were a sample'),
  part: z.enum(DAY_PARTS).describe('Of the day'),
  at: instant.describe('When, with offset'),
  reading: decimal.optional().describe('What the meter showed; of a calibration after adjusting'),
  turbidityUnit: z.enum(TURBIDITY_UNITS).optional().describe('As the meter shows'),
  nominal: decimal.optional().describe('On the label; for temperature the reading of the reference thermometer'),
  valueAtTemperature: decimal.optional().describe('Of the standard at its temperature, from the table of the bottle'),
  temperatureC: decimal.optional().describe('Of the standard'),
  buffer: z.enum(PH_BUFFER_IDS).optional().describe('By recipe'),
  conductivityStandard: z.enum(CONDUCTIVITY_STANDARD_IDS).optional().describe('Where it is potassium chloride'),
  conductanceShown: z.enum(CONDUCTANCE_SHOWN).optional().describe('What the meter shows. Default: at-25'),
  zobell: z.enum(ZOBELL_TABLE_IDS).optional().describe('Which form of the ORP solution'),
  referenceElectrode: z.enum(REFERENCE_ELECTRODE_IDS).optional().describe('Electrode and filling of the ORP sensor'),
  specificConductanceUsPerCm: decimal.optional().describe('Of the water in which oxygen is checked'),
  ...stationFields,
});

/** What a document leaves open, as the plan fixes it. */
export const optionFields = {
  set: calibrationPlan.shape.set,
  basis: z
    .enum(CHECK_BASES)
    .optional()
    .describe('Compare with the label or with the value at the temperature. Default: as the set'),
  percentOf: z.enum(PERCENT_OF).optional().describe('Of what a percentage is taken. Default: standard'),
  strictness: z.enum(STRICTNESSES).optional().describe('Where a document names two figures. Default: as the set'),
};

export function checkOf(given: z.output<typeof checkInput>): CalibrationCheck {
  const { id, meter, parameter, act, part, at, reading, turbidityUnit, ...standard } = given;
  return { id, meter, parameter, act, part, at, reading, turbidityUnit, standard };
}
