import type { Figure } from '../criteria-set.ts';
import { seen } from '../figures.ts';
import type { Parameter } from '../parameters.ts';

/** By how much a meter may drift between two checks in one standard before a protocol wants it calibrated again. */
export interface DriftLimit {
  readonly parameter: Parameter;
  readonly most: Figure;
  readonly source: string;
}

export const DRIFT_LIMITS: readonly DriftLimit[] = [
  { parameter: 'ph', most: seen('0.10'), source: 'county file, doc 928498, page 94' },
  { parameter: 'turbidity', most: seen('1'), source: 'county file, doc 928332, page 70' },
];

/** How far from the temperature of the groundwater the ORP solution may be. */
export const ORP_SOLUTION_WITHIN_C = { most: seen('10'), source: 'county file, doc 919545, page 235' } as const;
