import type { FillClass } from '../../catalog/analytes/analyte-group.ts';
import { ruleNamed, SPIKE_VOLUME_RULE } from './default-rules.ts';
import type { Bottle } from './wanted-bottles.ts';

/** For organics the laboratory needs the volume three times. */
const ORGANICS: readonly (FillClass | null)[] = ['volatiles', 'organic-halides', 'semivolatiles', 'pfas'];

/** Whether a spike takes bottles of its own; what is no organic is spiked out of the bottle of its parent. */
export function needsOwnSpikeBottle(fillClass: FillClass | null): boolean {
  return ORGANICS.includes(fillClass);
}

/** How often a spike brings each of those that it takes of its own. */
export function spikeTimes(): number {
  return (ruleNamed(SPIKE_VOLUME_RULE).volumeTimes ?? 3) - 1;
}

/** Of the bottles that a sample has those that a spike of it brings on top. */
export function spikeBottles(ofParent: readonly Bottle[]): readonly Bottle[] {
  return ofParent
    .filter(({ fillClass }) => needsOwnSpikeBottle(fillClass))
    .flatMap((bottle) => Array.from({ length: spikeTimes() }, () => bottle));
}
