import type { CatalogSection } from '../catalog-section.ts';
import { catalogItem } from '../catalog-section.ts';
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
