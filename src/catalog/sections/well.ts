import { type CatalogSection, catalogItem } from '../catalog-section.ts';
import { LEVEL_RULES } from '../levels/level-rules.ts';
import { CASING_SIZES, CASING_SIZES_SOURCE } from '../well/casing-sizes.ts';
import { INTAKE_RULES } from '../well/intake-rules.ts';
import { RECOVERY_RULES } from '../well/recovery-rules.ts';

export const CASING_SECTION: CatalogSection = {
  name: 'casing-sizes',
  title: 'Sizes of casing',
  description:
    'Inside and outside diameters in inches; the record of the well, or a measurement, goes before any table.',
  items: CASING_SIZES.map((size) => {
    const { nominalIn, schedule } = size;
    return catalogItem(size, {
      id: `${nominalIn}-inch-schedule-${schedule}`,
      name: `${nominalIn} in, schedule ${schedule}`,
      source: CASING_SIZES_SOURCE,
    });
  }),
};

const INTAKE_NAMES: Readonly<Record<keyof typeof INTAKE_RULES, string>> = {
  bottomClearanceFt: 'Clearance of the intake over the bottom, ft',
  longestScreenFt: 'Longest screen for which one procedure is meant, ft',
  fluxZoneAboveFt: 'Screen above which the zone of highest flux matters more than the middle, ft',
};

export const INTAKE_SECTION: CatalogSection = {
  name: 'intake-rules',
  title: 'Place of the intake',
  description: 'What documents say of it; a plan may set its own.',
  items: named(INTAKE_RULES, INTAKE_NAMES),
};

export const RECOVERY_SECTION: CatalogSection = {
  name: 'recovery-rules',
  title: 'Recovery before sampling',
  description:
    'What documents ask before a well that was pumped down is sampled; the plan says of what the percentage is.',
  items: RECOVERY_RULES.map((rule) => catalogItem(rule, { name: rule.wording })),
};

const LEVEL_NAMES: Readonly<Record<keyof typeof LEVEL_RULES, string>> = {
  roundSpanH: 'Longest time between the levels of one round, h',
  repeatWithinFt: 'Within which two readings of a level repeat, ft: two figures are in use',
  electricTapeBestBelowFt: 'Down to which an electric tape is best, ft',
  waitAfterPurgingH: 'Wait after purging before a level, h',
  levelPrecisionFt: 'Precision of a level, ft',
};

export const LEVEL_SECTION: CatalogSection = {
  name: 'level-rules',
  title: 'Water levels and rounds of them',
  description: 'What documents say of them; a plan may set its own.',
  items: named(LEVEL_RULES, LEVEL_NAMES),
};

/** Rules that are fields of one object, each an item. */
function named<Rules extends object>(rules: Rules, names: Readonly<Record<keyof Rules & string, string>>) {
  return Object.entries(rules).map(([id, rule]) =>
    catalogItem(rule as object, { id, name: names[id as keyof Rules & string] }),
  );
}
