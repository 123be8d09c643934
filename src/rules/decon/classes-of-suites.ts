import { CONTAMINANT_CLASSES, type ContaminantClass } from '../../catalog/decon/decon-protocol.ts';
import { groupsOfSuite, type SuiteGroup } from '../../catalog/materials/suite-groups.ts';

const CLASS_OF_GROUP: Readonly<Record<SuiteGroup, ContaminantClass>> = {
  pfas: 'pfas',
  volatiles: 'organics',
  semivolatiles: 'organics',
  metals: 'inorganics',
  inorganics: 'inorganics',
};

const CLASS_WORDS: Readonly<Record<ContaminantClass, string>> = {
  organics: 'organics',
  inorganics: 'inorganics',
  pfas: 'PFAS',
  product: 'product',
};

export function classWritten(one: ContaminantClass): string {
  return CLASS_WORDS[one];
}

/** Each class once, in the order of the catalog. */
export function inClassOrder(classes: Iterable<ContaminantClass>): readonly ContaminantClass[] {
  const given = new Set(classes);
  return CONTAMINANT_CLASSES.filter((one) => given.has(one));
}

export interface SuiteClasses {
  readonly classes: readonly ContaminantClass[];
  /** Suites whose name says nothing that is known here. */
  readonly unknown: readonly string[];
}

export function classesOfSuites(suites: readonly string[]): SuiteClasses {
  return {
    classes: inClassOrder(suites.flatMap(groupsOfSuite).map((group) => CLASS_OF_GROUP[group])),
    unknown: suites.filter((suite) => groupsOfSuite(suite).length === 0),
  };
}
