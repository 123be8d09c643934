import type { CatalogSection } from '../catalog-section.ts';
import { catalogItem } from '../catalog-section.ts';
import { criteriaNotUsable } from '../criteria-not-usable.ts';
import { criteriaSets } from '../criteria-sets.ts';
import { PARAMETER_NAMES, PARAMETERS } from '../parameters.ts';

export const PARAMETER_SECTION: CatalogSection = {
  name: 'parameters',
  title: 'Field parameters',
  description: 'The parameters that a purge may be judged by, and the unit of their tolerances.',
  items: PARAMETERS.map((id) => catalogItem(PARAMETER_NAMES[id], { id })),
};

export const CRITERIA_SECTION: CatalogSection = {
  name: 'criteria-sets',
  title: 'Criteria of stabilization',
  description: 'Each edition of each document is a set of its own; a set never changes, as events of the past cite it.',
  items: criteriaSets.map((set) => catalogItem(set, { name: `${set.document}, ${set.edition}` })),
};

export const NOT_USABLE_SECTION: CatalogSection = {
  name: 'criteria-not-usable',
  title: 'Criteria that are not in the catalog',
  description: 'Documents whose figures were not recovered or are no single numbers, each with the reason.',
  items: criteriaNotUsable.map((one) => catalogItem(one, { name: one.document })),
};
