import type { ByIntake, CriteriaSet, DrawdownUnit, DrawnVolume, Figure } from '../../catalog/criteria-set.ts';
import { PARAMETERS, type Parameter } from '../../catalog/parameters.ts';
import type { EventPlan, StabilizationPlan } from '../../protocol/event-plan.ts';
import type { AbsoluteArithmetic, PercentArithmetic } from '../../science/arithmetic-names.ts';
import { type Limit, limitsOf, planFigure, volumeOf } from './read-plan-volumes.ts';

/** Where a choice comes from: the event's plan, the criteria set, or our default. */
export type From = 'plan' | 'set' | 'default';

export interface ParameterOptions {
  readonly required: boolean;
  readonly sensorFloor: string | null;
  /** Digits after the point to which readings are rounded before comparing; null: compared as entered. */
  readonly roundToPlaces: number | null;
  /** An upper limit that every value must keep besides, of the plan or of the set. */
  readonly atMost: Figure | null;
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
    readonly limitUnit: DrawdownUnit;
    readonly steadyWithinFt: string;
    readonly required: boolean;
  };
  readonly minimumPurge: 'reported' | 'required';
  /** What must be drawn before the first reading that counts, and between two readings; null: nothing. */
  readonly beforeFirstReading: DrawnVolume | ByIntake | null;
  readonly betweenReadings: DrawnVolume | ByIntake | null;
  readonly volumeGracePercent: string;
  /** Volume of the pump, for the volumes that count it; null where the plan does not say. */
  readonly pumpVolumeMl: string | null;
  readonly limits: readonly Limit[];
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
  /** The shortest interval that most of the sets give; for a set and a plan that give none. */
  minimumIntervalS: 180,
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
  volumeGracePercent: '5',
} as const;

const FROM_SET: readonly (keyof StabilizationPlan)[] = [
  'percentArithmetic',
  'absoluteArithmetic',
  'minimumIntervalS',
  'turnover',
  'beforeFirstReading',
  'betweenReadings',
  'limits',
];

const NONE: ParameterOptions = { required: true, sensorFloor: null, roundToPlaces: null, atMost: null };

function parameterOptions(plan: StabilizationPlan, set: CriteriaSet, parameter: Parameter): ParameterOptions {
  const given = plan.parameters?.[parameter] ?? {};
  const criterion = set.criteria.find((one) => one.parameter === parameter);
  const byDefault = criterion?.optional ? 'advisory' : 'required';
  return {
    required: (given.use ?? byDefault) === 'required',
    sensorFloor: given.sensorFloor ?? null,
    roundToPlaces: given.roundTo == null ? null : Math.max(0, given.roundTo.length - 2),
    atMost: given.atMost == null ? (criterion?.atMost ?? null) : planFigure(given.atMost),
  };
}

const ALL_NONE = Object.fromEntries(PARAMETERS.map((parameter) => [parameter, NONE])) as Options['parameters'];

function allParameters(plan: StabilizationPlan, set: CriteriaSet): Options['parameters'] {
  const ofSet = set.criteria.some(({ optional, atMost }) => optional || atMost);
  if (!plan.parameters && !ofSet) return ALL_NONE;
  const entries = PARAMETERS.map((parameter) => [parameter, parameterOptions(plan, set, parameter)]);
  return Object.fromEntries(entries) as Options['parameters'];
}

/** The options of a plan that give the limit of the drawdown, each with its unit. */
const DRAWDOWN_LIMITS = [
  ['limitFt', 'ft'],
  ['limitM', 'm'],
  ['limitScreenTopToIntakePercent', 'percent-of-screen-top-to-intake'],
  ['limitScreenLengthPercent', 'percent-of-screen-length'],
  ['limitWaterColumnPercent', 'percent-of-water-column'],
] as const;

function drawdownOptions(plan: StabilizationPlan, set: CriteriaSet): Options['drawdown'] {
  const given = plan.drawdown ?? {};
  const own = DRAWDOWN_LIMITS.find(([option]) => given[option] != null);
  const ofSet = given.steadyAtAnyDepth ? undefined : set.drawdownTarget;
  return {
    limit: own ? (given[own[0]] as string) : (ofSet?.limit.value ?? null),
    limitUnit: own?.[1] ?? ofSet?.unit ?? 'ft',
    steadyWithinFt: given.steadyWithinFt ?? DEFAULTS.steadyWithinFt,
    required: (given.steady ?? set.steadyLevel) === 'required',
  };
}

function minutes(text: string): number {
  return Math.round(Number(text) * 60_000);
}

function setIntervalMs({ minimumIntervalMin }: CriteriaSet): number {
  return minimumIntervalMin ? minutes(minimumIntervalMin.value) : DEFAULTS.minimumIntervalS * 1_000;
}

function durations(plan: StabilizationPlan, set: CriteriaSet) {
  const own = plan.minimumIntervalS;
  return {
    minimumIntervalMs: own == null ? setIntervalMs(set) : own * 1_000,
    graceMs: (plan.graceS ?? DEFAULTS.graceS) * 1_000,
    largestGapMs: (plan.largestGapS ?? DEFAULTS.largestGapS) * 1_000,
  };
}

/** What is asked for and cannot be checked does not pass; what is only looked at beside the parameters is reported. */
function whenUnknown(plan: StabilizationPlan, { steadyLevel }: CriteriaSet, asksVolumes: boolean) {
  return plan.whenUnknown ?? (asksVolumes || steadyLevel === 'required' ? 'not-stable' : 'reported');
}

function optionsOf(plan: StabilizationPlan, set: CriteriaSet): Options {
  const beforeFirstReading = volumeOf(plan.beforeFirstReading, set.beforeFirstReading);
  const betweenReadings = volumeOf(plan.betweenReadings, set.betweenReadings);
  return {
    percentArithmetic: plan.percentArithmetic ?? set.percentArithmetic.id,
    absoluteArithmetic: plan.absoluteArithmetic ?? set.absoluteArithmetic.id,
    parameters: allParameters(plan, set),
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
    beforeFirstReading,
    betweenReadings,
    volumeGracePercent: plan.volumeGracePercent ?? DEFAULTS.volumeGracePercent,
    pumpVolumeMl: plan.pumpVolumeMl ?? null,
    limits: limitsOf(plan.limits, set.limits),
    whenUnknown: whenUnknown(plan, set, beforeFirstReading !== null || betweenReadings !== null),
  };
}

/** A set that gives no interval leaves it to our default. */
function isOfSet(set: CriteriaSet, option: keyof StabilizationPlan): boolean {
  return FROM_SET.includes(option) && (option !== 'minimumIntervalS' || set.minimumIntervalMin !== undefined);
}

/** Fills in what an event's plan leaves open, from the criteria set it cites and then from our defaults. */
export function readPlan(plan: EventPlan, set: CriteriaSet): ReadPlan {
  const given = plan.stabilization ?? {};
  const options = optionsOf(given, set);
  return {
    set,
    options,
    readingsNeeded: Number(set.readings.value) + (options.count === 'comparisons' ? 1 : 0),
    from: (option) => (given[option] != null ? 'plan' : isOfSet(set, option) ? 'set' : 'default'),
  };
}
