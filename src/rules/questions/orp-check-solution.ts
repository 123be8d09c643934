import { z } from 'zod';
import { atTemperature } from '../../catalog/standards/at-temperature.ts';
import { ZOBELL_WITH_4_MOLAR } from '../../catalog/standards/check-solution-table.ts';
import { expectedOrp } from '../../catalog/standards/expected-orp.ts';
import {
  REFERENCE_ELECTRODE_IDS,
  REFERENCE_ELECTRODES,
  type ReferenceElectrode,
} from '../../catalog/standards/reference-electrodes.ts';
import { ZOBELL_TABLE_IDS, type ZobellTableId } from '../../catalog/standards/zobell-tables.ts';
import { decimal } from '../../protocol/primitives.ts';
import { isRefusal } from '../../science/refusal.ts';
import { answered, DEFERS, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Nordstrom 1977, as in US Geological Survey, National Field Manual, chapter 6.5 (equation from memory)',
  'Standard Methods 2580, read in a copy',
  'Handbook chapter, doi 10.1201/b10505-51, for 428 - 2.2 (t - 25)',
];

const CAUTIONS = [
  'The forms of the solution differ by up to 7 mV at 5 °C, more than a limit of 5 mV: write with the check which one was used.',
  'Bring the solution near the temperature of the groundwater, within about 10 °C (county file, doc 919545, page 235).',
  `The solution holds ferrocyanide and ferricyanide: never into acid, and not into the ground. ${DEFERS}`,
];

/** What the meter should read by one form; nothing where that form is not known at the temperature. */
function expected(table: ZobellTableId, electrode: ReferenceElectrode, temperatureC: string) {
  const value = expectedOrp(table, electrode, temperatureC);
  if (isRefusal(value)) return [];
  const { name, ehMv, referenceMv, orpMv, verified } = value;
  return [{ table, name, ehMv, referenceMv, orpMv, verified }];
}

/** An instrument table for its own electrode; only where that electrode is asked about. */
function instrumentTable(electrode: ReferenceElectrode, temperatureC: string): readonly string[] {
  if (electrode.id !== 'silver-chloride-4-molar') return [];
  const value = atTemperature(ZOBELL_WITH_4_MOLAR, temperatureC);
  return isRefusal(value) ? [] : [`${ZOBELL_WITH_4_MOLAR.source} gives ${value.text} mV at ${temperatureC} °C.`];
}

export const orpCheckSolution = defineQuestion({
  name: 'orp-check-solution',
  title: 'What should the ORP electrode read in its check solution?',
  description:
    'The reading to expect in ZoBell’s solution by electrode, filling and temperature, by each of the forms in circulation side by side, each named: they differ by up to 7 mV.',
  sources: SOURCES,
  input: z
    .strictObject({
      referenceElectrode: z.enum(REFERENCE_ELECTRODE_IDS).describe('Electrode and filling, as the sensor has them'),
      temperatureC: decimal.describe('Of the solution'),
    })
    .meta({ examples: [{ referenceElectrode: 'silver-chloride-3-3-molar', temperatureC: '15.0' }] }),
  output: z.strictObject({
    expected: z
      .array(
        z.strictObject({
          table: z.enum(ZOBELL_TABLE_IDS).describe('Which form of the solution'),
          name: z.string().describe('The same in words'),
          ehMv: z.string().describe('Of the solution against the standard hydrogen electrode'),
          referenceMv: z.string().describe('Of the reference electrode'),
          orpMv: z.string().describe('What the meter should read'),
          verified: z.boolean().describe('Whether both figures were read in their sources'),
        }),
      )
      .describe('One entry a form that is known at the temperature'),
    ...answerFields,
  }),
  answer({ referenceElectrode: id, temperatureC }) {
    const electrode = REFERENCE_ELECTRODES[id];
    const found = ZOBELL_TABLE_IDS.flatMap((table) => expected(table, electrode, temperatureC));
    const instrument = instrumentTable(electrode, temperatureC);
    const reference = atTemperature(electrode, temperatureC);
    if (isRefusal(reference) && instrument.length === 0) return { expected: [], ...unanswered(reference, SOURCES) };
    const reasons = found.map(
      ({ name, ehMv, referenceMv, orpMv }) => `${name}: ${ehMv} - ${referenceMv} = ${orpMv} mV.`,
    );
    return {
      expected: found,
      ...answered(
        [...reasons, ...instrument],
        [...SOURCES, electrode.source],
        [...CAUTIONS, ...(electrode.note === undefined ? [] : [electrode.note])],
      ),
    };
  },
});
