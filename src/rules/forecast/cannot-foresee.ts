import { volumesAt } from '../assessment/conditions-at.ts';
import type { PurgeRun } from '../assessment/purge-run.ts';

/** Why nothing can be foreseen of the parameters of a purge, whatever they do; null where something can. */
export function cannotForesee(run: PurgeRun): string | null {
  const end = run.moments.length - 1;
  const latest = run.moments[end];
  if (latest === undefined) return 'No reading was recorded yet.';
  if (!Number.isFinite(latest.intervalMs)) {
    return 'No water moves at the flow that was recorded, so no reading counts: nothing can be foreseen before it flows.';
  }
  if (volumesAt(run, end) !== 'not-known' || run.plan.options.whenUnknown === 'reported') return null;
  const needs = run.volumes?.lacks.join(', ') || 'the volume purged, or the flow';
  return `These criteria ask for a volume to be drawn, which cannot be told: record ${needs}. Before that no reading is known to count.`;
}
