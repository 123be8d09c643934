import { z } from 'zod';
import { decimal, text } from '../../protocol/primitives.ts';
import { isRefusal } from '../../science/refusal.ts';
import type { ChemistryFinding } from '../chemistry/chemistry-finding.ts';
import { CHEMISTRY_QUANTITIES, type ChemistryReading } from '../chemistry/chemistry-reading.ts';
import { COMPENSATION_METHODS } from '../chemistry/compensation.ts';
import { purgeFindings } from '../chemistry/purge-findings.ts';
import { stationAir } from '../chemistry/station-air.ts';
import { stationFields } from '../chemistry/station-fields.ts';
import { answered, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Benson and Krause 1980 and 1984, for oxygen',
  'ISO 7888:1985 / EN 27888 and linear factors, for conductance',
  'US EPA, EPA/600/R-98/128, 1998, for oxygen with ORP (from memory)',
  'common practice, no source, for sensors that do not move',
];

const readingInput = z.strictObject({
  id: text(64).describe('Names the reading in the findings'),
  meter: text(64).optional().describe('Which meter read it'),
  temperatureC: decimal.optional(),
  ph: decimal.optional(),
  specificConductanceUsPerCm: decimal.optional().describe('At 25 °C'),
  dissolvedOxygenMgPerL: decimal.optional(),
  dissolvedOxygenPercent: decimal.optional().describe('Of saturation, as the meter shows it'),
  orpMv: decimal.optional().describe('Against the electrode of the meter'),
  turbidityNtu: decimal.optional(),
  turbidityFnu: decimal.optional(),
});

const input = z
  .strictObject({
    readings: z
      .array(readingInput)
      .min(1)
      .max(500)
      .describe('Of one purge, earliest first, without over-range figures'),
    ...stationFields,
    compensations: z
      .array(z.strictObject({ meter: text(64), method: z.enum(COMPENSATION_METHODS) }))
      .max(20)
      .optional()
      .describe('How each meter brings conductivity to 25 °C, where that is known'),
  })
  .meta({
    examples: [
      {
        readings: [
          {
            id: '10:05',
            temperatureC: '14.2',
            dissolvedOxygenMgPerL: '6.10',
            dissolvedOxygenPercent: '59.4',
            orpMv: '-182',
          },
          {
            id: '10:10',
            temperatureC: '14.2',
            dissolvedOxygenMgPerL: '6.02',
            dissolvedOxygenPercent: '58.7',
            orpMv: '-185',
          },
        ],
        altitudeFt: '250',
      },
    ],
  });

function chemistryReading(given: z.output<typeof readingInput>): ChemistryReading {
  const quantities = Object.fromEntries(CHEMISTRY_QUANTITIES.map((name) => [name, given[name] ?? null]));
  return { id: given.id, meter: given.meter ?? null, ...(quantities as Omit<ChemistryReading, 'id' | 'meter'>) };
}

function foundText(findings: readonly ChemistryFinding[]): string {
  if (findings.length === 0)
    return 'These readings do not contradict each other: oxygen, ORP, conductance and values that stand still were compared. Whether a value is possible by itself was not asked.';
  return `${findings.length} ${findings.length === 1 ? 'thing is' : 'things are'} hard to believe; the readings stay as they are.`;
}

export const purgePlausibility = defineQuestion({
  name: 'purge-plausibility',
  title: 'What in these readings is hard to believe?',
  description:
    'Looks through the readings of a purge for oxygen above saturation, oxygen with a strongly negative ORP, mg/L and percent that do not agree, a change of temperature compensation, a sensor that repeats itself and lines that repeat. Findings are questions to the crew: nothing is taken back.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    findings: z
      .array(
        z.strictObject({
          code: z.string().describe('Which rule'),
          certainty: z.enum(['sure', 'likely']).describe('Sure: arithmetic or a record says so'),
          sentence: z.string().describe('What was found, and what to look at'),
          numbers: z
            .array(z.strictObject({ name: z.string(), value: z.string(), unit: z.string() }))
            .describe('The figures it rests on'),
          readings: z.array(z.string()).describe('The readings it is about'),
          source: z.string().describe('Publication, or common practice'),
          verified: z.boolean().describe('Whether the source was read, or it is arithmetic'),
        }),
      )
      .describe('What is hard to believe'),
    ...answerFields,
  }),
  answer(given) {
    const air = stationAir(given);
    if (isRefusal(air)) return { findings: [], ...unanswered(air, SOURCES) };
    const findings = purgeFindings({
      readings: given.readings.map(chemistryReading),
      air,
      compensations: new Map(given.compensations?.map(({ meter, method }) => [meter, method])),
    });
    const listed = findings.map((one) => ({ ...one, numbers: [...one.numbers], readings: [...one.readings] }));
    const without =
      air === null
        ? ['Without the pressure of the station only what holds at any pressure is asked of the oxygen.']
        : [];
    return { findings: listed, ...answered([foundText(findings)], SOURCES, without) };
  },
});
