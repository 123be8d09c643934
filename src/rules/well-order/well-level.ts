import type { WellClass } from '../../protocol/kinds/well.ts';

/** A last result of a well for one analyte. */
export interface LastResult {
  readonly analyte: string;
  readonly casNumber?: string | null | undefined;
  readonly value?: string | null | undefined;
  readonly unit: string;
  readonly reportingLimit?: string | null | undefined;
  /** What the plan measures it by, in the same unit, such as a clean-up level; missing: the reporting limit. */
  readonly limit?: string | null | undefined;
  readonly condition: 'detected' | 'not-detected' | 'below-reporting-limit' | 'not-reported';
}

/** What is known of how contaminated a well is: its class as the office assigned it, its last results, or neither. */
export interface WellLevel {
  readonly well: string;
  readonly assignedClass?: WellClass | null | undefined;
  readonly results: readonly LastResult[];
}
