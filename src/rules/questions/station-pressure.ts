import { z } from 'zod';
import { oxygenSaturation } from '../../science/oxygen/oxygen-saturation.ts';
import { judgedPressure, type PressureKind } from '../../science/oxygen/pressure-kind.ts';
import { standardPressureMmHg } from '../../science/oxygen/standard-atmosphere.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { altitudeInMetres, statedPressureMmHg } from '../chemistry/station-air.ts';
import { stationFields } from '../chemistry/station-fields.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'ISO 2533:1975, standard atmosphere',
  'Benson and Krause 1980 and 1984, for what it does to dissolved oxygen',
  'That weather stays within 3.5 % of the standard pressure: common practice, no source',
];

const KINDS = ['station', 'reduced-to-sea-level', 'low-ground', 'cannot-tell', 'not-believable', 'not-given'] as const;

const SENTENCES: Readonly<Record<PressureKind, string>> = {
  station: 'The pressure fits the station at this altitude.',
  'reduced-to-sea-level':
    'The pressure is one reduced to sea level, as phones, airports and weather reports show it: never give it to an oxygen meter.',
  'low-ground':
    'At this altitude the pressure of the station and the one reduced to sea level differ too little to matter.',
  'cannot-tell':
    'By its size the pressure could be that of the station or one reduced to sea level, and it matters: ask where it comes from, or read a barometer at the well.',
  'not-believable':
    'The pressure is neither that of this altitude nor one reduced to sea level: check unit and altitude.',
};

const input = z.strictObject(stationFields).meta({
  examples: [{ stationPressureInHg: '29.95', altitudeFt: '5280' }, { altitudeM: '300' }],
});

type Given = z.output<typeof input>;

const NOTHING = { kind: null, standardPressureMmHg: null, ifReducedMmHg: null, saturationErrorMgPerL: null };

interface Place {
  readonly altitudeM: number;
  readonly statedMmHg: number | null;
  readonly standardMmHg: number;
}

function placeOf(given: Given): Place | Refusal {
  const altitudeM = altitudeInMetres(given);
  if (isRefusal(altitudeM)) return altitudeM;
  if (altitudeM === null) return refuse('The altitude of the well is not given: give it in feet or in metres.');
  const statedMmHg = statedPressureMmHg(given);
  if (isRefusal(statedMmHg)) return statedMmHg;
  const standardMmHg = standardPressureMmHg(altitudeM);
  return isRefusal(standardMmHg) ? standardMmHg : { altitudeM, statedMmHg, standardMmHg };
}

/** By how much saturation at 20 °C comes out too high where a reduced pressure is taken for that of the station. */
function errorAt20(statedMmHg: number, stationMmHg: number): number | null {
  const at = (pressureMmHg: number) =>
    oxygenSaturation({ temperatureC: 20, pressureMmHg, salinity: 0, basis: 'benson-and-krause' });
  const [wrong, right] = [at(statedMmHg), at(stationMmHg)];
  return isRefusal(wrong) || isRefusal(right) ? null : wrong.mgPerL - right.mgPerL;
}

function onlyStandard({ altitudeM, standardMmHg }: Place) {
  const text = placesText(standardMmHg, 1);
  const reason = `The standard atmosphere has ${text} mmHg at ${placesText(altitudeM, 0)} m.`;
  const caution = 'Weather moves it by about 3 %: a barometer at the well is better.';
  return {
    ...NOTHING,
    kind: 'not-given' as const,
    standardPressureMmHg: text,
    ...answered([reason], SOURCES, [caution]),
  };
}

function judged(place: Place, statedMmHg: number) {
  const pressure = judgedPressure(statedMmHg, place.altitudeM);
  if (isRefusal(pressure)) return { ...NOTHING, ...unanswered(pressure, SOURCES) };
  const { kind, ifReducedMmHg } = pressure;
  const error = errorAt20(statedMmHg, ifReducedMmHg);
  const ifReduced = placesText(ifReducedMmHg, 1);
  const by = error === null ? null : placesText(error, 2);
  const inOxygen = by === null ? '' : `, and saturation at 20 °C comes out ${by} mg/L too high`;
  const standard = placesText(place.standardMmHg, 1);
  return {
    kind,
    standardPressureMmHg: standard,
    ifReducedMmHg: ifReduced,
    saturationErrorMgPerL: by,
    ...answered(
      [
        SENTENCES[kind],
        `Given are ${placesText(statedMmHg, 1)} mmHg; the standard atmosphere has ${standard} mmHg here. If it is a pressure reduced to sea level, the station has ${ifReduced} mmHg${inOxygen}.`,
      ],
      SOURCES,
      kind === 'station' || kind === 'low-ground'
        ? []
        : ['Readings of oxygen stay as they were read; note what the meter was given.'],
    ),
  };
}

export const stationPressure = defineQuestion({
  name: 'station-pressure',
  title: 'Is this the pressure of the air at the well?',
  description:
    'The pressure of the standard atmosphere at an altitude, and whether a stated pressure can be that of the station or was reduced to sea level. Below about 1,900 ft the size alone cannot tell, and the answer says so.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    kind: z.enum(KINDS).nullable().describe('What the stated pressure is'),
    standardPressureMmHg: figure('Of the standard atmosphere at the altitude'),
    ifReducedMmHg: figure('The pressure of the station if the stated one was reduced to sea level'),
    saturationErrorMgPerL: figure('By how much saturation at 20 °C comes out too high in that case'),
    ...answerFields,
  }),
  answer(given) {
    const place = placeOf(given);
    if (isRefusal(place)) return { ...NOTHING, ...unanswered(place, SOURCES) };
    return place.statedMmHg === null ? onlyStandard(place) : judged(place, place.statedMmHg);
  },
});
