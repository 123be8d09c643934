import type { AnalyteGroup, HoldingCondition, HoldingVariant } from './analyte-group.ts';

/** What is known of how a container was kept. */
export interface KeptAs {
  readonly isPreserved: boolean;
  /** Something that has to be removed first was not, such as sulfide before cyanide. */
  readonly isInterferenceLeft: boolean;
  readonly isFrozen: boolean;
}

function conditionOf(group: AnalyteGroup, kept: KeptAs): HoldingCondition {
  if (kept.isInterferenceLeft && group.holding.some(({ condition }) => condition === 'interference-left'))
    return 'interference-left';
  if (!kept.isPreserved && group.preservation.anyOf.length > 0) return 'not-preserved';
  return kept.isFrozen ? 'frozen' : 'as-prescribed';
}

/**
 * The holding time that counts for a container as it was kept; null where no document gives one for that, so that there is
 * a question and no date. Lists other than the first are a choice of the plan and never picked here.
 */
export function holdingOf(group: AnalyteGroup, kept: KeptAs): HoldingVariant | null {
  const condition = conditionOf(group, kept);
  return group.holding.find((variant) => variant.condition === condition) ?? null;
}

/** A holding time by its name, as plans and records cite it. */
export function holdingVariant(group: AnalyteGroup, id: string): HoldingVariant | undefined {
  return group.holding.find((variant) => variant.id === id);
}
