import type { Figure } from '../criteria-set.ts';
import { PARAMETERS } from '../parameters.ts';

/** What a calibration check is about. Zero oxygen is a check of the oxygen sensor in a solution without oxygen. */
export const CHECK_PARAMETERS = [...PARAMETERS, 'zero-oxygen'] as const;
export type CheckParameter = (typeof CHECK_PARAMETERS)[number];

/** Where a document names two figures ("0.1 to 0.2"), or a second one for special water. */
export interface StricterFigure {
  readonly figure: Figure;
  readonly when: string;
  /** Which of the two counts where the plan says nothing. */
  readonly usual: 'stricter' | 'wider';
}

export type CheckTolerance =
  | { readonly rule: 'absolute'; readonly within: Figure; readonly stricter?: StricterFigure }
  | { readonly rule: 'percent'; readonly within: Figure }
  /** Passing one of them passes. */
  | { readonly rule: 'greater-of'; readonly percent: Figure; readonly absolute: Figure }
  /** The reading itself lies between two figures; the upper one may be outside. */
  | { readonly rule: 'between'; readonly least?: Figure; readonly most: Figure; readonly mostIs: 'in' | 'out' };

/** With which value of the standard a reading is compared. None of the documents is known to say it in so many words. */
export interface StandardValueBasis {
  readonly id: 'nominal' | 'at-temperature';
  readonly why: string;
}

export interface CheckLimit {
  readonly parameter: CheckParameter;
  /** Standards for which it holds, both ends included; in the unit of the parameter. */
  readonly from?: Figure;
  readonly to?: Figure;
  /** Standards above this, itself not included. */
  readonly above?: Figure;
  readonly tolerance: CheckTolerance;
  readonly basis: StandardValueBasis;
}

/** Limits of calibration checks as one edition of one document gives them. Editions differ: a new one is a new set. */
export interface CheckLimitSet {
  /** Plain words of our own; records cite it, so it never changes its meaning. */
  readonly id: string;
  readonly issuer: string;
  readonly document: string;
  readonly edition: string;
  /** Date of the edition, as exactly as it is known. */
  readonly dated: string;
  readonly source: string;
  readonly note?: string;
  readonly limits: readonly CheckLimit[];
  /** What must have passed before the first reading: a check after the calibration, or the calibration by itself. */
  readonly startBy: 'check' | 'calibration';
  /** Whether the standards must span what is read in the field, or the document is not known to say so. */
  readonly span: 'required' | 'unsaid';
  readonly bracketSource: string;
}
