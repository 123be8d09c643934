import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { VOLUME_KINDS } from '../../../src/catalog/criteria-set.ts';
import { criteriaSets } from '../../../src/catalog/criteria-sets.ts';
import type { StabilizationPlan } from '../../../src/protocol/event-plan.ts';
import type { AssessmentFields } from '../../../src/protocol/kinds/assessment.ts';
import { assessment } from '../../../src/protocol/kinds/assessment.ts';
import { OCCURRENCE_TYPES } from '../../../src/protocol/kinds/occurrence.ts';
import { assessPurge } from '../../../src/rules/assessment/assess-purge.ts';
import type { AssessmentInput, ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import {
  assess,
  at,
  call,
  idOf,
  inputOf,
  later,
  level,
  occurrence,
  REGION_1,
  reading,
  STEADY,
  setUp,
  well,
} from './purge-fixture.ts';

/** A purge of up to an hour with two phones, everything that may happen in it, and values that are often nearly stable. */
const value = (centre: number, spread: number, places: number) =>
  fc.integer({ min: -spread, max: spread }).map((shift) => ((centre + shift) / 10 ** places).toFixed(places));

/** @param wild how much the values move, 1 for a purge that is often stable */
function fieldsOf(wild: number): fc.Arbitrary<Partial<ReadingRecord['fields']>> {
  return fc
    .record({
      temperatureC: value(1_240, 10 * wild, 2),
      ph: value(710, 4 * wild, 2),
      specificConductanceUsPerCm: value(512, 6 * wild, 0),
      dissolvedOxygenMgPerL: fc.option(value(50, 2 * wild, 2), { nil: undefined, freq: 12 }),
      dissolvedOxygenPercent: fc.option(value(190, 12 * wild, 1), { nil: undefined }),
      purgedMl: fc.option(fc.integer({ min: 0, max: 40_000 }).map(String), { nil: undefined, freq: 6 }),
      orpMv: value(-84, 3 * wild, 0),
      turbidityNtu: fc.option(value(52, 2 * wild, 1), { nil: undefined, freq: 12 }),
      flowMlPerMin: fc.constantFrom('200', '205', '210', ...(wild > 1 ? ['300'] : [])),
      depthToWaterFt: fc.option(value(2_230, 2 * wild, 2), { nil: undefined }),
      meter: fc.constantFrom(idOf('meter A'), ...(wild > 1 ? [idOf('meter A'), idOf('meter B')] : [])),
      overRange: fc.constantFrom([], [], ...(wild > 1 ? [['turbidityNtu' as const]] : [])),
    })
    .map((all) => JSON.parse(JSON.stringify(all)));
}

/** One thing that happens: when, on which phone, and how it came into it. */
interface Happening {
  readonly second: number;
  readonly phone: string;
  readonly captured: 'at-the-well' | 'same-day' | 'from-paper';
  readonly fields: Partial<ReadingRecord['fields']>;
  readonly type: (typeof OCCURRENCE_TYPES)[number];
  readonly is: 'reading' | 'occurrence' | 'call' | 'level';
}

function happening(wild: number): fc.Arbitrary<Happening> {
  const others = wild > 1 ? (['occurrence', 'call', 'level'] as const) : (['call', 'level'] as const);
  return fc.record({
    second: fc.integer({ min: 0, max: 3_600 }),
    phone: fc.constantFrom('phone 1', 'phone 2'),
    captured: fc.constantFrom('at-the-well', 'at-the-well', 'same-day', 'from-paper'),
    fields: fieldsOf(wild),
    type: fc.constantFrom(...OCCURRENCE_TYPES),
    is: fc.constantFrom('reading', 'reading', 'reading', 'reading', ...others),
  });
}

const BOOT_SECOND = 40_000;

/** @param errorS by how much the clock of each phone is wrong, which the server measures at the push */
function recordOf(one: Happening, index: number, errorS: (phone: string) => number) {
  const error = one.captured === 'at-the-well' ? errorS(one.phone) : 0;
  const time = later(one.second + error);
  const clock = {
    wall: time,
    monotonicMs: (BOOT_SECOND + one.second) * 1_000,
    boot: 'boot',
    sequence: one.second * 100 + index,
    differenceMs: -errorS(one.phone) * 1_000,
    uncertaintyMs: 50,
  };
  const made = { time, id: idOf(`${index} ${one.is}`), captured: one.captured, client: idOf(one.phone), clock };
  if (one.is === 'reading') return reading(made, one.fields);
  if (one.is === 'occurrence') return occurrence(made, one.type);
  if (one.is === 'call') return call(made, 'stable');
  return level(made, 'pumping', one.fields.depthToWaterFt ?? '22.30');
}

/** A purge that was made up, with the criteria and the plan that it is judged by. */
interface Made {
  readonly all: readonly Happening[];
  readonly criteria: string;
  readonly plan: StabilizationPlan;
}

function inputFrom({ all, ...by }: Made, errorS: (phone: string) => number = () => 0): AssessmentInput {
  const records = all.map((one, index) => recordOf(one, index, errorS));
  const of = <Kind>(kind: string) => records.filter((record) => record.kind === kind) as unknown as Kind[];
  return inputOf({
    ...by,
    readings: of('reading'),
    occurrences: of('occurrence'),
    calls: of('call'),
    levels: [...of<ReturnType<typeof level>>('water-level'), level({ time: '09:40' }, 'before-purge', '22.10')],
    setUps: [
      setUp(
        { time: '09:50' },
        { intakeDepthFt: '28', tubingInsideDiameterIn: '0.25', tubingLengthFt: '60', flowCellVolumeMl: '250' },
      ),
    ],
    well: well({ casingInsideDiameterIn: '2.00', totalDepthFt: '26.10', screenTopFt: '22', screenBottomFt: '26' }),
  });
}

const happenings = fc.oneof(
  fc.array(happening(1), { minLength: 8, maxLength: 30 }),
  fc.array(happening(3), { minLength: 1, maxLength: 30 }),
);

const optional = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: undefined, freq: 2 });
const volume = fc.record({
  amount: fc.constantFrom('0', '0.25', '1'),
  of: fc.constantFrom(...VOLUME_KINDS),
});
const plans: fc.Arbitrary<StabilizationPlan> = fc.record({
  windows: optional(fc.constantFrom('own-time' as const)),
  whenUnknown: optional(fc.constantFrom('not-stable' as const)),
  pumpVolumeMl: optional(fc.constant('150')),
  beforeFirstReading: optional(volume),
  betweenReadings: optional(volume),
  limits: optional(fc.record({ minutes: fc.integer({ min: 1, max: 60 }), readings: fc.integer({ min: 1, max: 20 }) })),
  drawdown: optional(
    fc.constantFrom(
      { steadyAtAnyDepth: true, steady: 'required' as const },
      { limitScreenLengthPercent: '5' },
      { limitWaterColumnPercent: '5', steady: 'reported' as const },
    ),
  ),
  parameters: optional(fc.constant({ turbidity: { atMost: '5.2' }, 'dissolved-oxygen': { use: 'required' as const } })),
});

/** Half of them by the first set and an empty plan, where a purge is often stable. */
const purges: fc.Arbitrary<Made> = fc.oneof(
  fc.record({ all: happenings, criteria: fc.constant(REGION_1), plan: fc.constant({}) }),
  fc.record({ all: happenings, criteria: fc.constantFrom(...criteriaSets.map(({ id }) => id)), plan: plans }),
);

/** An assessment without the times of day that it shows, which are kept as they were entered. */
function timeless({ firstHeldAt, latestReadingAt, limits, ...rest }: AssessmentFields) {
  const reached = limits?.map(({ reachedAt, ...limit }) => ({ ...limit, everReached: reachedAt !== undefined }));
  return { ...rest, reached, everHeld: firstHeldAt !== undefined, everRead: latestReadingAt !== undefined };
}

describe('an assessment does not depend', () => {
  it('[A6] on the order in which records arrive, to the byte', () => {
    let stable = 0;
    fc.assert(
      fc.property(purges, fc.infiniteStream(fc.nat()), (all, dice) => {
        const input = inputFrom(all);
        const shuffle = <Kind>(list: readonly Kind[]): Kind[] =>
          list
            .map((one) => ({ one, at: dice.next().value ?? 0 }))
            .sort((a, b) => a.at - b.at)
            .map(({ one }) => one);
        const again = {
          ...input,
          readings: shuffle(input.readings),
          occurrences: shuffle(input.occurrences),
          calls: shuffle(input.calls),
          levels: shuffle(input.levels),
        };
        const result = assessPurge(input);
        if (result.stable) stable += 1;
        expect(JSON.stringify(assessPurge(again))).toBe(JSON.stringify(result));
      }),
      { numRuns: 400 },
    );
    expect(stable).toBeGreaterThan(5);
  });

  it('[A6] on the clock of the phone: a constant error changes nothing but the times shown', () => {
    const onePhone = purges.map((made) => ({
      ...made,
      all: made.all.map((one) => ({ ...one, phone: 'phone 1', captured: 'at-the-well' as const })),
    }));
    fc.assert(
      fc.property(onePhone, fc.integer({ min: -86_400, max: 86_400 }), (all, errorS) => {
        const ofVisit = (input: AssessmentInput) => ({ ...input, setUps: [], levels: input.levels.slice(0, -1) });
        const right = assessPurge(ofVisit(inputFrom(all)));
        const wrong = assessPurge(ofVisit(inputFrom(all, () => errorS)));
        expect(timeless(wrong)).toEqual(timeless(right));
      }),
      { numRuns: 400 },
    );
  });

  it('[A6] on the clocks of two phones and of paper, where the server measured each error beyond ten minutes', () => {
    const errors = fc.integer({ min: 601, max: 86_400 }).chain((size) => fc.constantFrom(size, -size));
    fc.assert(
      fc.property(purges, errors, errors, (all, first, second) => {
        const wrong = inputFrom(all, (phone) => (phone === 'phone 1' ? first : second));
        expect(timeless(assessPurge(wrong))).toEqual(timeless(assessPurge(inputFrom(all))));
      }),
      { numRuns: 400 },
    );
  });

  it('[A6] on records that are given twice', () => {
    fc.assert(
      fc.property(purges, (all) => {
        const input = inputFrom(all);
        const twice = {
          ...input,
          readings: [...input.readings, ...input.readings],
          calls: [...input.calls, ...input.calls],
        };
        expect(assessPurge(twice)).toEqual(assessPurge(input));
      }),
      { numRuns: 200 },
    );
  });

  it('[A6] on anything that does not fit its kind: every assessment does', () => {
    fc.assert(
      fc.property(purges, (all) => {
        const result = assessPurge(inputFrom(all));
        expect(assessment.fields.parse(result)).toEqual(result);
        expect(JSON.parse(JSON.stringify(result))).toStrictEqual(result);
        expect(result.stable).toBe(result.missing.length === 0);
      }),
      { numRuns: 200 },
    );
  });

  it('[A8] the spread over the smallest value within the tolerance leaves no percentage in doubt', () => {
    fc.assert(
      fc.property(purges, (all) => {
        const result = assessPurge(inputFrom(all));
        const sure = result.parameters.filter(({ spreadOverSmallest }) => spreadOverSmallest?.within);
        const doubted = result.otherArithmetics
          .filter(({ type }) => type === 'percent')
          .flatMap(({ parameters }) => parameters);
        for (const { parameter, status } of sure) {
          expect(status).toBe('stable');
          expect(doubted).not.toContain(parameter);
        }
      }),
      { numRuns: 200 },
    );
  });
});

describe('a wet sheet, typed in the evening', () => {
  const rows = [
    { turbidityNtu: '61', ph: '6.81' },
    { turbidityNtu: '44', ph: '6.93' },
    { turbidityNtu: '29', ph: '7.02' },
    { turbidityNtu: '19', ph: '7.08' },
    { turbidityNtu: '12', ph: '7.10' },
    { turbidityNtu: '9.1', ph: '7.11' },
    { turbidityNtu: '8.8', ph: '7.11' },
    { turbidityNtu: '8.6', ph: '7.12' },
  ];
  const live = rows.map((row, index) => {
    const clock = {
      wall: later(index * 300),
      monotonicMs: 9_000_000 + index * 300_000,
      boot: 'b',
      sequence: index,
      differenceMs: 0,
      uncertaintyMs: 0,
    };
    return reading({ time: later(index * 300), id: idOf(`row ${index}`), clock }, { ...STEADY, ...row });
  });
  /** Observed 10:00 to 10:35, entered 18:02 to 18:06, in the order in which the wet lines could be made out. */
  const typed = [5, 0, 7, 2, 1, 6, 3, 4].map((index, typedAs): ReadingRecord => {
    const minute = String(2 + Math.floor(typedAs / 2)).padStart(2, '0');
    const entered = at(`18:${minute}`);
    const clock = {
      wall: entered,
      monotonicMs: 38_000_000 + typedAs * 30_000,
      boot: 'b',
      sequence: 100 + typedAs,
      differenceMs: 0,
      uncertaintyMs: 0,
    };
    const made = {
      time: later(index * 300),
      id: idOf(`row ${index}`),
      entered,
      captured: 'from-paper' as const,
      clock,
    };
    return reading(made, { ...STEADY, ...rows[index] });
  });

  it('[A6] gives the same assessment as readings typed at the well', () => {
    expect(assess({ readings: live }).firstHeldAt).toBe(at('10:35'));
    expect(assess({ readings: typed })).toEqual(assess({ readings: live }));
  });

  it('[A6] gives it whatever part of it arrived late, twice, or out of order', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(typed, { minLength: 8 }), fc.subarray(typed), (order, again) => {
        expect(assess({ readings: [...order, ...again] })).toEqual(assess({ readings: live }));
      }),
    );
  });
});
