import { z } from 'zod';
import { decimal } from '../../protocol/primitives.ts';
import {
  OXYGEN_BASES,
  type OxygenSaturation,
  oxygenSaturation as saturationOf,
} from '../../science/oxygen/oxygen-saturation.ts';
import { percentSaturation } from '../../science/oxygen/percent-saturation.ts';
import { salinityOfConductance } from '../../science/oxygen/salinity-of-conductance.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { type StationAir, stationAir } from '../chemistry/station-air.ts';
import { stationFields } from '../chemistry/station-fields.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Benson and Krause 1980 and 1984; basis of US Geological Survey, technical memorandum 2011.03 (from memory)',
  'Weiss 1970 for the older basis of US Geological Survey, technical memoranda 81.11 and 99.01',
  'ISO 2533:1975 where the altitude stands in for a barometer',
];

const OLDER =
  'This is the older basis: forms printed before 2011 rest on it, 0.1 to 0.3 % below the present one. Say which one a limit was made for.';

const input = z
  .strictObject({
    temperatureC: decimal.describe('Of the water'),
    ...stationFields,
    specificConductanceUsPerCm: decimal.optional().describe('At 25 °C, for the salinity; missing: fresh water'),
    salinity: decimal.optional().describe('Practical scale of 1978, where it is known by itself'),
    basis: z.enum(OXYGEN_BASES).optional().describe('Family of solubility. Default: benson-and-krause'),
    dissolvedOxygenMgPerL: decimal.optional().describe('As read, for the percentages'),
  })
  .meta({
    examples: [
      {
        temperatureC: '15.0',
        stationPressureMmHg: '700',
        specificConductanceUsPerCm: '850',
        dissolvedOxygenMgPerL: '4.60',
      },
    ],
  });

type Given = z.output<typeof input>;

const NOTHING = {
  saturationMgPerL: null,
  saturationAtOneAtmMgPerL: null,
  ofLocalPercent: null,
  ofOneAtmPercent: null,
  stationPressureMmHg: null,
  salinity: null,
};

function salinityFrom({ salinity, specificConductanceUsPerCm }: Given): number | Refusal {
  if (salinity !== undefined && specificConductanceUsPerCm !== undefined)
    return refuse('Both a salinity and a specific conductance are given: give the one that was measured.');
  if (salinity !== undefined) return Number(salinity);
  return salinityOfConductance(Number(specificConductanceUsPerCm ?? '0'));
}

function airOf(given: Given): StationAir | Refusal {
  const air = stationAir(given);
  return (
    air ??
    refuse(
      'Neither the pressure at the station nor the altitude is given: one of them is needed, for 1,000 ft move saturation by 3.6 %.',
    )
  );
}

function percents(given: Given, saturation: OxygenSaturation) {
  const shown = given.dissolvedOxygenMgPerL;
  if (shown === undefined) return { ofLocalPercent: null, ofOneAtmPercent: null };
  const found = percentSaturation(Number(shown), saturation);
  if (isRefusal(found)) return found;
  return {
    ofLocalPercent: placesText(found.ofLocalPercent, 1),
    ofOneAtmPercent: placesText(found.ofOneAtmPercent, 1),
  };
}

function cautions({ basis }: Given, air: StationAir): readonly string[] {
  const altitude =
    air.from === 'altitude' ? ['The altitude stands in for a barometer: weather moves saturation by about 3 %.'] : [];
  const older = basis === undefined || basis === 'benson-and-krause' ? [] : [OLDER];
  return [
    ...altitude,
    ...older,
    'Meters show percent of saturation here or under 1 atm: write which.',
    'A pressure from a phone, an airport or a weather report is reduced to sea level: it is not the one of the station.',
  ];
}

export const oxygenSaturation = defineQuestion({
  name: 'oxygen-saturation',
  title: 'How much oxygen can this water take from the air here?',
  description:
    'Saturation of dissolved oxygen at the temperature, the pressure of the station and the salinity, and percent saturation in both meanings: of saturation here and of saturation under 1 atm. The pressure is needed: scaling by P/760 alone is half a percent off at 625 mmHg.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    saturationMgPerL: figure('At the pressure of the station: what an oxygen sensor in saturated water should show'),
    saturationAtOneAtmMgPerL: figure('The same water under 1 atm'),
    ofLocalPercent: figure('Percent of saturation here; null without a reading'),
    ofOneAtmPercent: figure('Percent of saturation under 1 atm; null without a reading'),
    stationPressureMmHg: figure('The pressure that was used'),
    salinity: figure('The salinity that was used'),
    ...answerFields,
  }),
  answer(given) {
    const air = airOf(given);
    if (isRefusal(air)) return { ...NOTHING, ...unanswered(air, SOURCES) };
    const salinity = salinityFrom(given);
    if (isRefusal(salinity)) return { ...NOTHING, ...unanswered(salinity, SOURCES) };
    const saturation = saturationOf({
      temperatureC: Number(given.temperatureC),
      pressureMmHg: air.mmHg,
      salinity,
      basis: given.basis ?? 'benson-and-krause',
    });
    if (isRefusal(saturation)) return { ...NOTHING, ...unanswered(saturation, SOURCES) };
    const percent = percents(given, saturation);
    if (isRefusal(percent)) return { ...NOTHING, ...unanswered(percent, SOURCES) };
    const here = placesText(saturation.mgPerL, 2);
    const atOneAtm = placesText(saturation.atOneAtmMgPerL, 2);
    return {
      saturationMgPerL: here,
      saturationAtOneAtmMgPerL: atOneAtm,
      ...percent,
      stationPressureMmHg: placesText(air.mmHg, 1),
      salinity: placesText(salinity, 2),
      ...answered(
        [
          `Water of ${given.temperatureC} °C and salinity ${placesText(salinity, 2)} takes up ${here} mg/L (${air.how}), and ${atOneAtm} mg/L under 1 atm.`,
        ],
        SOURCES,
        cautions(given, air),
      ),
    };
  },
});
