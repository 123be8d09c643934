import type { Figure } from '../criteria-set.ts';
import { fromMemory, seen } from '../figures.ts';

export const BLANK_RULE_IDS = ['us-dod-2022', 'national-guidelines-older'] as const;
export type BlankRuleId = (typeof BLANK_RULE_IDS)[number];

/** How many times the value of a blank a sample must exceed to be clear of it, as one document gives it. */
export interface BlankRule {
  readonly id: BlankRuleId;
  readonly title: string;
  readonly source: string;
  readonly edition: string;
  readonly dated: string;
  /** For every analyte that has no factor of its own. */
  readonly factor: Figure;
  /** For those that laboratories themselves often bring in. */
  readonly common?: { readonly factor: Figure; readonly analytes: readonly CommonContaminant[] };
}

export interface CommonContaminant {
  readonly casNumber: string;
  readonly name: string;
}

const COMMON_CONTAMINANTS: readonly CommonContaminant[] = [
  { casNumber: '67-64-1', name: 'acetone' },
  { casNumber: '75-09-2', name: 'methylene chloride' },
  { casNumber: '78-93-3', name: '2-butanone' },
  { casNumber: '117-81-7', name: 'bis(2-ethylhexyl) phthalate' },
  { casNumber: '84-74-2', name: 'di-n-butyl phthalate' },
  { casNumber: '85-68-7', name: 'butyl benzyl phthalate' },
  { casNumber: '84-66-2', name: 'diethyl phthalate' },
  { casNumber: '131-11-3', name: 'dimethyl phthalate' },
  { casNumber: '117-84-0', name: 'di-n-octyl phthalate' },
];

/** A rule is never taken out or changed: events of the past cite it. */
export const BLANK_RULES: Readonly<Record<BlankRuleId, BlankRule>> = {
  'us-dod-2022': {
    id: 'us-dod-2022',
    title: 'Five times the blank, for every analyte',
    source:
      'US Department of Defense, Data Validation Guidelines, Modules 1 to 4, revised table A for qualification in the presence of blank contamination, 9 Feb 2022, read in a copy',
    edition: 'table A of 9 Feb 2022',
    dated: '2022-02-09',
    factor: seen('5'),
  },
  'national-guidelines-older': {
    id: 'national-guidelines-older',
    title: 'Five times the blank; ten times for common laboratory contaminants',
    source: 'US EPA, Contract Laboratory Program, National Functional Guidelines, older editions, from memory',
    edition: 'editions of the 1990s',
    dated: 'not read',
    factor: fromMemory('5', 'high'),
    common: { factor: fromMemory('10', 'high'), analytes: COMMON_CONTAMINANTS },
  },
};
