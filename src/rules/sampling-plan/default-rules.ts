import { type QcRule, qcRule } from '../../catalog/analytes/qc-rules.ts';

/** The rules that hold where the plan says nothing. */
export const DUPLICATE_RULE = 'field-duplicate-one-in-10';
export const SPIKE_RULE = 'ms-msd-one-in-20';
export const SPIKE_VOLUME_RULE = 'ms-msd-three-volumes';

export function ruleNamed(id: string): QcRule {
  const rule = qcRule(id);
  if (!rule) throw new Error(`the catalog has no QC rule ${id}: plans rest on it, put it back`);
  return rule;
}
