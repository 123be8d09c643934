import { z } from 'zod';
import { atTemperature } from '../../catalog/standards/at-temperature.ts';
import {
  REFERENCE_ELECTRODE_IDS,
  REFERENCE_ELECTRODES,
  type ReferenceElectrode,
} from '../../catalog/standards/reference-electrodes.ts';
import { decimal } from '../../protocol/primitives.ts';
import { ehMv } from '../../science/orp/eh.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { ifKnown } from '../chemistry/known.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Definition: Eh is the reading plus the potential of the reference electrode',
  'US Geological Survey, National Field Manual, chapter 6.5, version 1.2 (2005), table 6.5-2 (from memory)',
];

const input = z
  .strictObject({
    orpMv: decimal.describe('As the meter shows it'),
    referenceElectrode: z
      .enum(REFERENCE_ELECTRODE_IDS)
      .optional()
      .describe('Electrode and filling, as the sensor has them; needed, never assumed'),
    temperatureC: decimal.optional().describe('Of the water at the electrode; needed, never assumed'),
  })
  .meta({ examples: [{ orpMv: '150', referenceElectrode: 'silver-chloride-3-3-molar', temperatureC: '15.0' }] });

type Given = z.output<typeof input>;

interface Known {
  readonly electrode: ReferenceElectrode;
  readonly temperatureC: string;
}

function known({ referenceElectrode: id, temperatureC }: Given): Known | Refusal {
  const electrode = id === undefined ? undefined : REFERENCE_ELECTRODES[id];
  const missing = [
    ...(electrode === undefined ? ['the reference electrode with its filling'] : []),
    ...(temperatureC === undefined ? ['the temperature'] : []),
  ];
  if (electrode === undefined || temperatureC === undefined)
    return refuse(
      `ORP is no Eh without ${missing.join(' and ')}: fillings alone differ by up to 90 mV. Keep the reading as ORP.`,
    );
  return { electrode, temperatureC };
}

const NOTHING = { ehMv: null, referenceMv: null, verified: null };

export const orpToEh = defineQuestion({
  name: 'orp-to-eh',
  title: 'What is this ORP against the standard hydrogen electrode?',
  description:
    'Eh from an ORP reading by electrode, filling and temperature; refused without any of them. A reading is never labelled Eh by itself, and Eh is no routine field parameter.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    ehMv: figure('Against the standard hydrogen electrode'),
    referenceMv: figure('Potential of the reference electrode at that temperature'),
    verified: z.boolean().nullable().describe('Whether the potential was read in its source'),
    ...answerFields,
  }),
  answer(given) {
    const found = known(given);
    if (isRefusal(found)) return { ...NOTHING, ...unanswered(found, SOURCES) };
    const { electrode, temperatureC } = found;
    const reference = atTemperature(electrode, temperatureC);
    const eh = ifKnown(reference, ({ text, how }) =>
      ifKnown(ehMv(given.orpMv, text), (mv) => ({ mv, referenceMv: text, how })),
    );
    if (isRefusal(eh)) return { ...NOTHING, ...unanswered(eh, SOURCES) };
    return {
      ehMv: eh.mv,
      referenceMv: eh.referenceMv,
      verified: electrode.verified,
      ...answered(
        [
          `${given.orpMv} mV plus ${eh.referenceMv} mV (${electrode.name}, at ${temperatureC} °C, ${eh.how}) is Eh ${eh.mv} mV.`,
        ],
        [electrode.source],
        [
          ...(electrode.note === undefined ? [] : [electrode.note]),
          'Labels of molarity are not interchangeable: an instrument table headed 3 mol/L has the figures of 3.3 mol/L. Take the filling from the sensor.',
          'Keep the ORP as read with its electrode and temperature beside the Eh.',
        ],
      ),
    };
  },
});
