import type { AbsoluteArithmetic, PercentArithmetic } from '../science/arithmetic-names.ts';
import type { Parameter } from './parameters.ts';

/**
 * A number of a publication and how we come by it. `verified` means that it was read in the document (or in the copy
 * named); everything else is recalled, with the confidence stated, and is an editable default.
 */
export interface Figure {
  readonly value: string;
  readonly verified: boolean;
  readonly status:
    | 'seen'
    | 'from memory, high confidence'
    | 'from memory, medium confidence'
    | 'from memory, low confidence'
    | 'common practice, no source';
  /** Where it was seen, where that is not the source of the set. */
  readonly source?: string;
}

export interface PercentTolerance {
  readonly rule: 'percent';
  readonly within: Figure;
  /** Worded as "less than": exactly at the figure does not pass. */
  readonly lessThan?: true;
}

export interface AbsoluteTolerance {
  readonly rule: 'absolute';
  /** In the unit of the parameter, or in the one named. */
  readonly within: Figure;
  readonly unit?: '°F';
  readonly lessThan?: true;
}

/** "Whichever is greater": passing one of them passes. */
export interface GreaterOf {
  readonly rule: 'greater-of';
  readonly of: readonly [PercentTolerance, AbsoluteTolerance];
}

/** Low enough to count as stable, whatever the readings do. */
export interface LowEnough {
  readonly rule: 'low-value';
}

/** An upper limit on every reading: it says nothing of whether the readings still move. */
export interface AtMost {
  readonly rule: 'at-most';
  readonly limit: Figure;
}

/** "Or": they are tried in this order, and passing one of them passes. */
export interface EitherOf {
  readonly rule: 'either';
  readonly of: readonly (PercentTolerance | AbsoluteTolerance | AtMost)[];
}

export type Tolerance = PercentTolerance | AbsoluteTolerance | GreaterOf | LowEnough | AtMost | EitherOf;

/** What a set asks of a parameter below a threshold; the last branch of a parameter usually has none. */
export interface Branch {
  readonly below?: Figure;
  /** What the wording says of a reading at the threshold itself: it is in this branch, is not, or nothing is said. */
  readonly atThreshold?: 'in' | 'out' | 'unsaid';
  readonly tolerance: Tolerance;
}

export interface Criterion {
  readonly parameter: Parameter;
  /** The first branch that the window falls into decides. A window that falls into none has no tolerance. */
  readonly branches: readonly Branch[];
  /** The document leaves it to the crew or the plan: judged and shown, and no well is unstable without it. */
  readonly optional?: true;
  /** Met as well where the readings in percent of saturation meet this, whatever those in mg/L do. */
  readonly orInPercentSaturation?: Tolerance;
  /** An upper limit that must hold besides. */
  readonly atMost?: Figure;
}

/**
 * Volumes that a purge is measured in. A well volume and a casing volume are both the water that stands in the casing:
 * none of these documents counts the filter pack. The equipment volume is that of pump, tubing and flow cell.
 */
export const VOLUME_KINDS = ['well-volume', 'casing-volume', 'pump-and-tubing-volume', 'equipment-volume'] as const;
export type VolumeKind = (typeof VOLUME_KINDS)[number];

export interface DrawnVolume {
  readonly times: Figure;
  readonly of: VolumeKind;
}

/** Where it depends on where the intake hangs; null: nothing is asked for. */
export interface ByIntake {
  readonly insideSubmergedScreen: DrawnVolume | null;
  readonly elsewhere: DrawnVolume | null;
}

export const LIMIT_KINDS = ['minutes', 'readings', 'well-volumes'] as const;
export type LimitKind = (typeof LIMIT_KINDS)[number];

/** After so much without stability the crew has to choose what to do. */
export interface PurgeLimit {
  readonly of: LimitKind;
  readonly at: Figure;
}

export const DRAWDOWN_UNITS = [
  'ft',
  'm',
  'percent-of-screen-top-to-intake',
  'percent-of-screen-length',
  'percent-of-water-column',
] as const;
export type DrawdownUnit = (typeof DRAWDOWN_UNITS)[number];

/** Criteria of stabilization as one edition of one document gives them. Editions differ: a new one is a new set. */
export interface CriteriaSet {
  /** Plain words of our own; an event's plan cites it, so it never changes its meaning. */
  readonly id: string;
  readonly issuer: string;
  readonly document: string;
  readonly edition: string;
  /** Date of the edition, as exactly as it is known; "not known" where the copy does not show it. */
  readonly dated: string;
  readonly source: string;
  readonly superseded?: string;
  readonly note?: string;
  readonly criteria: readonly Criterion[];
  readonly readings: Figure;
  /** Least time between readings; missing where the document gives none. */
  readonly minimumIntervalMin?: Figure;
  /** What must be drawn before the first reading that counts. */
  readonly beforeFirstReading?: DrawnVolume | ByIntake;
  /** What must be drawn between two readings of a window. */
  readonly betweenReadings?: DrawnVolume | ByIntake;
  /** How many flow-cell volumes must pass between readings; without it turnover is no condition. */
  readonly turnoverCellVolumes?: Figure;
  /** A target, in the unit of the document: 0.1 m is not 0.3 ft. */
  readonly drawdownTarget?: { readonly limit: Figure; readonly unit: DrawdownUnit };
  /** The document makes a steady water level part of being stable. */
  readonly steadyLevel?: 'required';
  /** The purge must exceed the stabilized drawdown volume plus the tubing volume. */
  readonly minimumPurge?: 'drawdown-and-tubing';
  readonly limits?: readonly PurgeLimit[];
  /** What is reported of the final window, where the document says so. */
  readonly reports?: 'median';
  readonly percentArithmetic: { readonly id: PercentArithmetic; readonly why: string };
  readonly absoluteArithmetic: { readonly id: AbsoluteArithmetic; readonly why: string };
}
