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
    | 'from memory, low confidence';
  /** Where it was seen, where that is not the source of the set. */
  readonly source?: string;
}

export interface PercentTolerance {
  readonly rule: 'percent';
  readonly within: Figure;
}

export interface AbsoluteTolerance {
  readonly rule: 'absolute';
  /** In the unit of the parameter. */
  readonly within: Figure;
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

export type Tolerance = PercentTolerance | AbsoluteTolerance | GreaterOf | LowEnough;

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
}

/** Criteria of stabilization as one edition of one document gives them. Editions differ: a new one is a new set. */
export interface CriteriaSet {
  /** Plain words of our own; an event's plan cites it, so it never changes its meaning. */
  readonly id: string;
  readonly issuer: string;
  readonly document: string;
  readonly edition: string;
  /** Date of the edition, as exactly as it is known. */
  readonly dated: string;
  readonly source: string;
  readonly superseded?: string;
  readonly note?: string;
  readonly criteria: readonly Criterion[];
  readonly readings: Figure;
  readonly minimumIntervalMin: Figure;
  /** How many flow-cell volumes must pass between readings; without it turnover is no condition. */
  readonly turnoverCellVolumes?: Figure;
  /** A target, in the unit of the document: 0.1 m is not 0.3 ft. */
  readonly drawdownTarget?: { readonly limit: Figure; readonly unit: 'ft' | 'm' };
  /** The purge must exceed the stabilized drawdown volume plus the tubing volume. */
  readonly minimumPurge?: 'drawdown-and-tubing';
  /** After this long without stability the crew has to choose what to do. */
  readonly timeLimitMin?: Figure;
  /** What is reported of the final window, where the document says so. */
  readonly reports?: 'median';
  readonly percentArithmetic: { readonly id: PercentArithmetic; readonly why: string };
  readonly absoluteArithmetic: { readonly id: AbsoluteArithmetic; readonly why: string };
}
