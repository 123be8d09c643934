import { VOLUME_KINDS } from '../../src/catalog/criteria-set.ts';
import { PARAMETERS } from '../../src/catalog/parameters.ts';
import type { StabilizationPlan } from '../../src/protocol/event-plan.ts';
import { ABSOLUTE_ARITHMETICS, PERCENT_ARITHMETICS } from '../../src/science/arithmetic-names.ts';
import type { Chance } from './chance.ts';

type ParameterPlan = NonNullable<NonNullable<StabilizationPlan['parameters']>[(typeof PARAMETERS)[number]]>;

/** Parts that are drawn, without those that are not. */
function given<T extends object>(parts: Readonly<Record<string, unknown>>): T {
  return Object.fromEntries(Object.entries(parts).filter(([, value]) => value !== undefined)) as T;
}

function parameterPlan(chance: Chance, parameter: (typeof PARAMETERS)[number]): ParameterPlan {
  const at = { temperature: '12.45', ph: '7.15', orp: '-80', turbidity: '8.5' }[parameter as string] ?? '515';
  return given({
    use: chance.rarely<'advisory' | 'required' | undefined>(0.4, ['advisory', 'required'], undefined),
    sensorFloor: chance.rarely<string | undefined>(0.3, ['0.1', '0.2', '0.02', '1', '5'], undefined),
    roundTo: chance.rarely<'1' | '0.1' | '0.01' | '0.001' | undefined>(0.4, ['1', '0.1', '0.01', '0.001'], undefined),
    atMost: chance.rarely<string | undefined>(0.2, [at, '0.50', '5', '100'], undefined),
  });
}

function drawdownPlan(chance: Chance): StabilizationPlan['drawdown'] {
  const limit = chance.one([
    {},
    { limitFt: '0.3' },
    { limitM: '0.1' },
    { limitScreenTopToIntakePercent: '25' },
    { limitScreenLengthPercent: '10' },
    { limitWaterColumnPercent: '5' },
    { steadyAtAnyDepth: true },
    { steadyAtAnyDepth: false, limitFt: '0.2' },
  ]);
  return given({
    ...limit,
    steadyWithinFt: chance.rarely<string | undefined>(0.3, ['0.01', '0.1', '0.02'], undefined),
    steady: chance.rarely<'required' | 'reported' | undefined>(0.6, ['required', 'reported'], undefined),
  });
}

function volume(chance: Chance) {
  return { amount: chance.one(['0', '0.1', '0.25', '1', '3']), of: chance.one(VOLUME_KINDS) };
}

function limits(chance: Chance): StabilizationPlan['limits'] {
  return given({
    minutes: chance.rarely<number | undefined>(0.5, [1, 15, 20, 120], undefined),
    readings: chance.rarely<number | undefined>(0.5, [1, 3, 5, 6], undefined),
    wellVolumes: chance.rarely<string | undefined>(0.5, ['0.05', '1', '3'], undefined),
  });
}

/** Every option of a plan, each drawn by itself: missing, null or one of its choices. */
export function randomPlan(chance: Chance): StabilizationPlan {
  const share = chance.one([0, 0.1, 0.3]);
  const may = <T>(all: readonly T[]) => chance.rarely<T | undefined | null>(share, [...all, null], undefined);
  const parameters = PARAMETERS.filter(() => chance.is(share)).map((name) => [name, parameterPlan(chance, name)]);
  return given({
    percentArithmetic: may(PERCENT_ARITHMETICS),
    absoluteArithmetic: may(ABSOLUTE_ARITHMETICS),
    parameters: parameters.length > 0 ? Object.fromEntries(parameters) : undefined,
    count: may(['readings', 'comparisons']),
    windows: chance.rarely<string | undefined>(share * 1.5, ['own-time', 'same-window'], undefined),
    minimumIntervalS: may([0, 60, 120, 180, 300]),
    graceS: may([0, 10, 30, 60, 300]),
    largestGapS: may([0, 300, 600, 1_800]),
    turnover: may(['required', 'not-required']),
    flowChangePercent: may(['0', '5', '10', '50']),
    afterInterruption: may(['one-interval', 'next-reading']),
    missing: may(['skip', 'break']),
    overRange: may(['break', 'skip']),
    lowValueStraddle: may(['each-reading', 'window']),
    lowValueEquality: may(['not-low', 'low']),
    drawdown: chance.is(share) ? drawdownPlan(chance) : undefined,
    minimumPurge: chance.rarely<string | undefined>(2 * share, ['reported', 'required', 'required'], undefined),
    beforeFirstReading: chance.is(share / 2) ? volume(chance) : undefined,
    betweenReadings: chance.is(share / 2) ? volume(chance) : undefined,
    volumeGracePercent: may(['0', '5', '50']),
    pumpVolumeMl: may(['0', '120', '300']),
    limits: chance.is(share / 2) ? limits(chance) : undefined,
    whenUnknown: chance.rarely<string | undefined>(2 * share, ['reported', 'not-stable'], undefined),
  });
}
