/** A figure that a finding rests on. */
export interface FindingNumber {
  readonly name: string;
  readonly value: string;
  readonly unit: string;
}

/**
 * What the chemistry of a purge makes hard to believe. It is a question to the crew and takes nothing back: the readings
 * stay as they are.
 */
export interface ChemistryFinding {
  readonly code: string;
  /** Sure: arithmetic or a record says so. Likely: a usual cause would explain it, and others could. */
  readonly certainty: 'sure' | 'likely';
  readonly sentence: string;
  readonly numbers: readonly FindingNumber[];
  /** Ids of the readings, in the order of the purge. */
  readonly readings: readonly string[];
  readonly source: string;
  /** Whether the source was read, or it is arithmetic; not recalled. */
  readonly verified: boolean;
}
