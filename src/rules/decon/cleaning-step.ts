import type { DeconStep } from '../../catalog/decon/decon-protocol.ts';

/** Dry steps that take something off nevertheless, by their id, which never changes its meaning. */
const DRY_AND_CLEANING: readonly string[] = ['wipe'];

/**
 * Whether a step takes something off the gear, or renews a part of it: without it the gear was not cleaned, whatever the
 * reason. What only takes it apart, dries, wraps or labels it may be left out for one.
 */
export function isCleaningStep({ id, fluids, change, makesWaste }: DeconStep): boolean {
  return fluids.length > 0 || change !== undefined || makesWaste || DRY_AND_CLEANING.includes(id);
}
