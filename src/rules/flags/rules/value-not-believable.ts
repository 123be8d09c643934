import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { inObservedOrder } from '../facts/observed-order.ts';
import type { FlagRule, Method } from '../flag-rule.ts';
import { countText } from '../list-text.ts';
import type { Finding } from '../raised-flag.ts';
import { BELIEVABLE, type Believable, type BelievableField } from './believable-values.ts';

type PurgeBundle = VisitBundle['purges'][number];
type Reading = PurgeBundle['readings'][number];

/** A figure that marks the end of the range of the meter is no measurement and is not asked about. */
function isOutside({ fields }: Reading, field: BelievableField, range: Believable): boolean {
  const shown = fields[field];
  if (shown === undefined || fields.overRange?.includes(field)) return false;
  // 15 digits at most: as doubles two such decimals compare as they do on paper.
  const value = Number(shown);
  return value < range.least || (range.most !== undefined && value > range.most);
}

interface Misses {
  readonly field: BelievableField;
  readonly range: Believable;
  readonly readings: readonly Reading[];
}

function missesOf(readings: readonly Reading[]): readonly Misses[] {
  const fields = Object.keys(BELIEVABLE) as BelievableField[];
  return fields.flatMap((field) => {
    const range = BELIEVABLE[field];
    const outside = readings.filter((one) => isOutside(one, field, range));
    return outside.length > 0 ? [{ field, range, readings: inObservedOrder(outside) }] : [];
  });
}

function sentenceOf({ field, range, readings }: Misses): string {
  const first = readings[0]?.fields[field];
  return `${range.name} ${first} in ${countText(readings.length, 'reading')}, where ${range.because}`;
}

function findingOf({ purge, readings }: PurgeBundle): readonly Finding[] {
  const misses = missesOf(readings);
  if (misses.length === 0) return [];
  return [
    {
      subjectKind: 'purge',
      subject: purge.id,
      sentence: `Hard to believe: ${misses.map(sentenceOf).join('; ')}. Read again, and check the meter.`,
      evidence: misses.flatMap(({ field, readings: outside }) => outside.map((one) => fieldEvidence(one, field))),
    },
  ];
}

const METHODS: readonly Method[] = ['low-flow', 'volume', 'dry-well', 'passive', 'flowing', 'gauging'];

/** A meter that fails shows the same figure again and again, in several fields: one cause, one flag on the purge. */
export const valueNotBelievable: FlagRule = {
  code: 'value-not-believable',
  title: 'A field parameter shows what water at the surface cannot show',
  severity: 'question',
  addressee: 'now',
  source: 'Plain physics: the pH scale, quantities that cannot be negative, liquid water, saturation with pure oxygen',
  verified: true,
  methods: METHODS,
  yieldsTo: [],
  evaluate: ({ bundle }) => bundle.purges.flatMap(findingOf),
  vectors: [
    {
      name: 'a dead meter is one flag, not one a reading',
      given: { readings: [{ ph: '15.20' }, { ph: '15.20' }, { ph: '15.20', specificConductanceUsPerCm: '-9' }] },
      expect: 'raised',
      says: 'pH 15.20 in 3 readings',
    },
    {
      name: 'ordinary water',
      given: {
        readings: [
          {
            temperatureC: '12.4',
            ph: '7.10',
            specificConductanceUsPerCm: '612',
            dissolvedOxygenMgPerL: '0.00',
            orpMv: '-152',
            turbidityNtu: '0.0',
          },
        ],
      },
      expect: 'silent',
    },
    { name: 'pH at the ends of its scale', given: { readings: [{ ph: '14' }, { ph: '0.00' }] }, expect: 'silent' },
    {
      name: 'over-range is no value',
      given: { readings: [{ dissolvedOxygenPercent: '999', overRange: ['dissolvedOxygenPercent'] }] },
      expect: 'silent',
    },
    { name: 'negative oxygen', given: { readings: [{ dissolvedOxygenMgPerL: '-0.05' }] }, expect: 'raised' },
    { name: 'absurd saturation', given: { readings: [{ dissolvedOxygenPercent: '870' }] }, expect: 'raised' },
    { name: 'negative turbidity', given: { readings: [{ turbidityFnu: '-1.2' }] }, expect: 'raised' },
    { name: 'boiled away', given: { readings: [{ temperatureC: '124' }] }, expect: 'raised', says: 'liquid' },
    { name: 'ice in degrees Fahrenheit', given: { readings: [{ temperatureF: '12.4' }] }, expect: 'raised' },
    { name: 'cold water in degrees Fahrenheit', given: { readings: [{ temperatureF: '54.3' }] }, expect: 'silent' },
  ],
};
