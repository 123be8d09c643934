import type { CriteriaSet } from '../../catalog/criteria-set.ts';
import { PARAMETERS, type Parameter } from '../../catalog/parameters.ts';
import type { EventPlan, StabilizationPlan } from '../../protocol/event-plan.ts';
import type { AbsoluteArithmetic, PercentArithmetic } from '../../science/arithmetic-names.ts';

/** Where a choice comes from: the event's plan, the criteria set, or our default. */
export type From = 'plan' | 'set' | 'default';

export interface ParameterOptions {
  readonly required: boolean;
  readonly sensorFloor: string | null;
  /** Digits after the point to which readings are rounded before comparing; null: compared as entered. */
  readonly roundToPlaces: number | null;
}

/** The options of a plan with every default filled in. Durations are in milliseconds. */
export interface Options {
  readonly percentArithmetic: PercentArithmetic;
  readonly absoluteArithmetic: AbsoluteArithmetic;
  readonly parameters: Readonly<Record<Parameter, ParameterOptions>>;
  readonly count: 'readings' | 'comparisons';
  readonly windows: 'same-window' | 'own-time';
  readonly minimumIntervalMs: number;
  readonly graceMs: number;
  readonly largestGapMs: number;
  readonly turnover: 'required' | 'not-required';
  readonly flowChangePercent: string;
  readonly afterInterruption: 'one-interval' | 'next-reading';
  readonly missing: 'skip' | 'break';
  readonly overRange: 'break' | 'skip';
  readonly lowValueStraddle: 'each-reading' | 'window';
  readonly lowValueEquality: 'not-low' | 'low';
  readonly drawdown: {
    readonly limit: string | null;
    readonly limitUnit: 'ft' | 'm';
    readonly steadyWithinFt: string;
    readonly required: boolean;
  };
  readonly minimumPurge: 'reported' | 'required';
  readonly whenUnknown: 'reported' | 'not-stable';
}

/** A plan together with the criteria set that it cites. */
export interface ReadPlan {
  readonly set: CriteriaSet;
  readonly options: Options;
  /** How many readings a window has. */
  readonly readingsNeeded: number;
  /** Where the choice of an option comes from. */
  readonly from: (option: keyof StabilizationPlan) => From;
}

/** What holds where neither the plan nor the criteria set says anything. None of these figures has a source. */
export const DEFAULTS = {
  count: 'readings',
  windows: 'same-window',
  graceS: 30,
  largestGapS: 1_800,
  flowChangePercent: '10',
  afterInterruption: 'one-interval',
  missing: 'skip',
  overRange: 'break',
  lowValueStraddle: 'each-reading',
  lowValueEquality: 'not-low',
  steadyWithinFt: '0.05',
  minimumPurge: 'reported',
  whenUnknown: 'reported',
} as const;

const FROM_SET: readonly (keyof StabilizationPlan)[] = [
  'percentArithmetic',
  'absoluteArithmetic',
  'minimumIntervalS',
  'turnover',
];

const NONE: ParameterOptions = { required: true, sensorFloor: null, roundToPlaces: null };

function parameterOptions(plan: StabilizationPlan, parameter: Parameter): ParameterOptions {
  const given = plan.parameters?.[parameter];
  if (!given) return NONE;
  return {
    required: given.use !== 'advisory',
    sensorFloor: given.sensorFloor ?? null,
    roundToPlaces: given.roundTo == null ? null : Math.max(0, given.roundTo.length - 2),
  };
}

const ALL_NONE = Object.fromEntries(PARAMETERS.map((parameter) => [parameter, NONE])) as Options['parameters'];

function allParameters(plan: StabilizationPlan): Options['parameters'] {
  if (!plan.parameters) return ALL_NONE;
  const entries = PARAMETERS.map((parameter) => [parameter, parameterOptions(plan, parameter)]);
  return Object.fromEntries(entries) as Options['parameters'];
}

function drawdownOptions(plan: StabilizationPlan, set: CriteriaSet): Options['drawdown'] {
  const given = plan.drawdown ?? {};
  const own = given.limitFt ?? given.limitM ?? null;
  const ownUnit = given.limitFt == null ? 'm' : 'ft';
  return {
    limit: own ?? set.drawdownTarget?.limit.value ?? null,
    limitUnit: own === null ? (set.drawdownTarget?.unit ?? 'ft') : ownUnit,
    steadyWithinFt: given.steadyWithinFt ?? DEFAULTS.steadyWithinFt,
    required: given.steady === 'required',
  };
}

function minutes(text: string): number {
  return Math.round(Number(text) * 60_000);
}

function durations(plan: StabilizationPlan, set: CriteriaSet) {
  const own = plan.minimumIntervalS;
  return {
    minimumIntervalMs: own == null ? minutes(set.minimumIntervalMin.value) : own * 1_000,
    graceMs: (plan.graceS ?? DEFAULTS.graceS) * 1_000,
    largestGapMs: (plan.largestGapS ?? DEFAULTS.largestGapS) * 1_000,
  };
}

function optionsOf(plan: StabilizationPlan, set: CriteriaSet): Options {
  return {
    percentArithmetic: plan.percentArithmetic ?? set.percentArithmetic.id,
    absoluteArithmetic: plan.absoluteArithmetic ?? set.absoluteArithmetic.id,
    parameters: allParameters(plan),
    count: plan.count ?? DEFAULTS.count,
    windows: plan.windows ?? DEFAULTS.windows,
    ...durations(plan, set),
    turnover: plan.turnover ?? (set.turnoverCellVolumes ? 'required' : 'not-required'),
    flowChangePercent: plan.flowChangePercent ?? DEFAULTS.flowChangePercent,
    afterInterruption: plan.afterInterruption ?? DEFAULTS.afterInterruption,
    missing: plan.missing ?? DEFAULTS.missing,
    overRange: plan.overRange ?? DEFAULTS.overRange,
    lowValueStraddle: plan.lowValueStraddle ?? DEFAULTS.lowValueStraddle,
    lowValueEquality: plan.lowValueEquality ?? DEFAULTS.lowValueEquality,
    drawdown: drawdownOptions(plan, set),
    minimumPurge: plan.minimumPurge ?? DEFAULTS.minimumPurge,
    whenUnknown: plan.whenUnknown ?? DEFAULTS.whenUnknown,
  };
}

/** Fills in what an event's plan leaves open, from the criteria set it cites and then from our defaults. */
export function readPlan(plan: EventPlan, set: CriteriaSet): ReadPlan {
  const given = plan.stabilization ?? {};
  const options = optionsOf(given, set);
  return {
    set,
    options,
    readingsNeeded: Number(set.readings.value) + (options.count === 'comparisons' ? 1 : 0),
    from: (option) => (given[option] != null ? 'plan' : FROM_SET.includes(option) ? 'set' : 'default'),
  };
}
