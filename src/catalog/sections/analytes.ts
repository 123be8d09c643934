import type { AnalyteGroup } from '../analytes/analyte-group.ts';
import { ANALYTE_GROUPS } from '../analytes/analyte-groups.ts';
import { ANALYTES_NOT_USABLE } from '../analytes/analytes-not-usable.ts';
import { CLOCK_RULES } from '../analytes/clock-rules.ts';
import { FIELD_MEASUREMENTS } from '../analytes/field-measurements.ts';
import { FILL_ORDERS } from '../analytes/fill-orders.ts';
import { PUBLICATIONS } from '../analytes/publications.ts';
import { SAMPLING_RULES } from '../analytes/sampling-rules.ts';
import { SHARED_BOTTLES } from '../analytes/shared-bottles.ts';
import { type CatalogItem, type CatalogSection, catalogItem } from '../catalog-section.ts';

/** By the document of its first holding time; every part names its own. */
function groupItem(group: AnalyteGroup): CatalogItem {
  const [holding] = group.holding;
  const said = holding ? { source: holding.source, dated: holding.dated } : {};
  return catalogItem(group, { name: group.title, ...said });
}

export const ANALYTE_GROUP_SECTION: CatalogSection = {
  name: 'analyte-groups',
  title: 'Groups of analytes: containers, preservation, holding times',
  description:
    'What is taken, kept and counted alike, each part with its own document. What is from memory is a default to check against the laboratory and the plan.',
  items: ANALYTE_GROUPS.map(groupItem),
};

export const ANALYTES_NOT_USABLE_SECTION: CatalogSection = {
  name: 'analytes-not-usable',
  title: 'What is no default for samples',
  description: 'Limits and documents that were not found or are no number to count with, each with the reason.',
  items: ANALYTES_NOT_USABLE.map((one) => catalogItem(one, { name: one.document })),
};

export const FIELD_MEASUREMENT_SECTION: CatalogSection = {
  name: 'field-measurements',
  title: 'What is measured at the well',
  description: 'What no bottle keeps long enough, and within how many minutes it is measured.',
  items: FIELD_MEASUREMENTS.map((one) => catalogItem(one, { name: one.title })),
};

export const CLOCK_RULE_SECTION: CatalogSection = {
  name: 'holding-rules',
  title: 'Rules of holding times and preservation',
  description: 'When clocks start, what cool means, when acid and filter come: for every group.',
  items: Object.values(CLOCK_RULES).map((rule) => catalogItem(rule, { name: rule.wording })),
};

export const FILL_ORDER_SECTION: CatalogSection = {
  name: 'fill-orders',
  title: 'Order of filling within a well',
  description: 'As three documents give it. Where PFAS come is a choice of the plan.',
  items: Object.values(FILL_ORDERS).map((order) => {
    const [step] = order.steps;
    return catalogItem(order, { name: order.title, ...(step ? { source: step.source, dated: step.dated } : {}) });
  }),
};

export const SAMPLING_RULE_SECTION: CatalogSection = {
  name: 'sampling-rules',
  title: 'Rules of filling and filtering',
  description: 'Rates, bubbles, filters, gloves, and how long after the purge.',
  items: Object.values(SAMPLING_RULES).map((rule) => catalogItem(rule, { name: rule.wording })),
};

export const SHARED_BOTTLE_SECTION: CatalogSection = {
  name: 'shared-bottles',
  title: 'Bottles that serve several groups',
  description: 'Kept alike; the shortest clock in a bottle governs its shipment.',
  items: SHARED_BOTTLES.map((one) => catalogItem(one, { name: one.title })),
};

export const PUBLICATION_SECTION: CatalogSection = {
  name: 'sample-publications',
  title: 'Documents on samples',
  description: 'Documents that several groups and rules rest on, and whether they were read.',
  items: Object.entries(PUBLICATIONS).map(([id, publication]) =>
    catalogItem(publication, { id, name: publication.source }),
  ),
};
