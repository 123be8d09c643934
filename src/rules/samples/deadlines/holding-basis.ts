import type { AnalyteGroup, HoldingLimit, HoldingVariant } from '../../../catalog/analytes/analyte-group.ts';
import { CLOCK_RULES } from '../../../catalog/analytes/clock-rules.ts';
import type { SettingLayer } from '../../../catalog/analytes/group-settings.ts';
import { holdingOf, holdingVariant } from '../../../catalog/analytes/holding-of.ts';
import { figureOf } from '../../../catalog/analytes/rule-figure.ts';
import type { SuiteGroup } from '../../../protocol/kinds/analyte-suite.ts';
import type { HoldingClock } from '../../../science/samples/holding-clocks.ts';
import { millionths } from '../../millionths.ts';

/** On what a limit rests. */
export interface ClockBasis {
  /** As the catalog names it: "nitrate/as-prescribed". */
  readonly catalog: string;
  readonly layer: SettingLayer;
  readonly source: string;
  readonly dated: string | null;
  readonly verified: boolean;
  readonly reason: string | null;
  readonly approvedBy: string | null;
}

export interface BasedLimit extends HoldingLimit {
  readonly basis: ClockBasis;
}

export interface LimitsAnswer {
  readonly limits: readonly BasedLimit[];
  /** Why nothing is known of how long it may be kept; null where something is. */
  readonly unknown: string | null;
}

const HOURS = {
  holdingHours: 'collection-to-analysis',
  extractionHours: 'collection-to-extraction',
  extractToAnalysisHours: 'extraction-to-analysis',
} as const satisfies Readonly<Record<string, HoldingClock>>;

function documented(group: AnalyteGroup, variant: HoldingVariant): readonly BasedLimit[] {
  const { source, dated, verified, id } = variant;
  const said = { layer: 'regulation', source, dated, verified, reason: null, approvedBy: null } as const;
  return variant.limits.map((limit) => ({ ...limit, basis: { ...said, catalog: `${group.id}/${id}` } }));
}

/** Only with a reason and an approver, so that nobody takes a slip for an approved deviation. */
function ofProject(group: AnalyteGroup, suite: SuiteGroup | undefined): readonly BasedLimit[] {
  const { reason, approvedBy } = suite ?? {};
  if (!suite || !reason?.trim() || !approvedBy?.trim()) return [];
  const basis: ClockBasis = {
    catalog: group.id,
    layer: 'project',
    source: 'the plan of the project',
    dated: null,
    verified: true,
    reason,
    approvedBy,
  };
  return (Object.keys(HOURS) as (keyof typeof HOURS)[]).flatMap((field) => {
    const hours = suite[field];
    if (hours == null) return [];
    // rounded down, so that a clock never ends later than was approved
    const minutes = Math.floor((millionths(hours) * 60) / 1_000_000);
    return [{ clock: HOURS[field], written: `${hours} h`, minutes, basis }];
  });
}

/** A limit of 15 minutes is also that of every group that is preserved and says nothing else of when. */
function preservedSoon(group: AnalyteGroup, limits: readonly BasedLimit[]): readonly BasedLimit[] {
  const clock = 'collection-to-preservation';
  if (group.preservation.anyOf.length === 0 || limits.some((limit) => limit.clock === clock)) return [];
  const { source, dated, verified, id } = CLOCK_RULES.preserveSoon;
  const minutes = Number(figureOf(CLOCK_RULES.preserveSoon, 'preserved-within'));
  const basis = { catalog: id, layer: 'regulation', source, dated, verified, reason: null, approvedBy: null } as const;
  return [{ clock, written: `${minutes} min`, minutes, basis }];
}

/** The variant that the plan chose, unless that asks for a preservative which is known not to be in there. */
function variantOf(group: AnalyteGroup, suite: SuiteGroup | undefined, isPreserved: boolean): HoldingVariant | null {
  const chosen = suite?.variant == null ? undefined : holdingVariant(group, suite.variant);
  const kept = holdingOf(group, { isPreserved, isInterferenceLeft: false, isFrozen: false });
  if (!chosen) return kept;
  return !isPreserved && group.preservation.anyOf.length > 0 && chosen.condition === 'as-prescribed' ? kept : chosen;
}

/**
 * What counts of one clock. The project's time was approved for water that is preserved as was planned: of a bottle known to
 * lack its preservative it may shorten the document's, and never lengthen it.
 */
function inForce(
  stated: readonly BasedLimit[],
  own: readonly BasedLimit[],
  isUnpreserved: boolean,
): readonly BasedLimit[] {
  const isAhead = (one: BasedLimit) => {
    const other = stated.find(({ clock }) => clock === one.clock);
    return !isUnpreserved || other === undefined || one.minutes < other.minutes;
  };
  const ahead = own.filter(isAhead);
  return [...stated.filter(({ clock }) => ahead.every((one) => one.clock !== clock)), ...ahead];
}

/**
 * How long a container may be kept: as the documents have it for how it was preserved, with what the project asks for
 * instead. That it froze on the way gives it no more time; a plan that freezes on purpose names that holding time.
 */
export function limitsOf(group: AnalyteGroup, suite: SuiteGroup | undefined, isPreserved: boolean): LimitsAnswer {
  const variant = variantOf(group, suite, isPreserved);
  const own = ofProject(group, suite);
  const stated = variant ? documented(group, variant) : [];
  const kept = inForce(stated, own, !isPreserved && group.preservation.anyOf.length > 0);
  const limits = [...kept, ...preservedSoon(group, kept)];
  if (kept.length > 0) return { limits, unknown: null };
  return {
    limits,
    unknown: `No document gives a holding time for ${group.title} without its preservative: ask the laboratory, and let the project approve one.`,
  };
}
