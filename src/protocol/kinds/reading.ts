import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { decimal, id, LONG_TEXT, text } from '../primitives.ts';

/** The measured fields of a reading: its parameters, the level and the flow. */
export const READING_QUANTITIES = {
  temperatureC: maybe(decimal),
  temperatureF: maybe(decimal),
  ph: maybe(decimal),
  specificConductanceUsPerCm: maybe(decimal).describe('At 25 °C, in µS/cm'),
  dissolvedOxygenMgPerL: maybe(decimal),
  dissolvedOxygenPercent: maybe(decimal).describe('Percent of saturation, as the meter shows it'),
  orpMv: maybe(decimal).describe('Against the electrode of the meter, not Eh'),
  turbidityNtu: maybe(decimal).describe('White light at 90 degrees'),
  turbidityFnu: maybe(decimal).describe('Near infrared at 90 degrees; never mixed with NTU'),
  depthToWaterFt: maybe(decimal).describe('Pumping level below the measuring point'),
  flowMlPerMin: maybe(decimal),
  purgedMl: maybe(decimal).describe('Water drawn since the purge began'),
};

export const READING_QUANTITY_NAMES = Object.keys(READING_QUANTITIES) as (keyof typeof READING_QUANTITIES)[];

export const reading = defineKind({
  name: 'reading',
  plural: 'readings',
  family: 'observation',
  description: 'One line of a purge log: the field parameters, the pumping level and the flow at one moment.',
  home: { in: 'parent', field: 'purge' },
  references: { purge: 'purge', meter: 'unit' },
  writers: FIELD,
  fields: {
    purge: id,
    meter: maybe(id),
    ...READING_QUANTITIES,
    overRange: maybe(z.array(z.enum(READING_QUANTITY_NAMES)).max(READING_QUANTITY_NAMES.length)).describe(
      'Fields whose figure is the end of the range of the meter, not a measurement',
    ),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
