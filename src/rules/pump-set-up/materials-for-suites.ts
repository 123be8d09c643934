import { groupsOfSuite, type SuiteGroup } from '../../catalog/materials/suite-groups.ts';
import {
  type MaterialName,
  materialsNamed,
  type Suitability,
  type SuitabilityFigure,
  WETTED_MATERIALS,
  type WettedMaterial,
} from '../../catalog/materials/wetted-materials.ts';

export interface MaterialAnswer {
  readonly material: MaterialName;
  readonly written: string;
  readonly suitability: Suitability;
  readonly reasons: readonly string[];
}

export interface KnownSuites {
  readonly groups: readonly SuiteGroup[];
  /** Names that say nothing here: no material is checked for them. */
  readonly unknown: readonly string[];
}

export function knownSuites(suites: readonly string[]): KnownSuites {
  return {
    groups: [...new Set(suites.flatMap(groupsOfSuite))],
    unknown: suites.filter((suite) => groupsOfSuite(suite).length === 0),
  };
}

const ORDER: readonly Suitability[] = ['suits', 'with-care', 'does-not-suit'];

function worst(a: Suitability, b: Suitability): Suitability {
  return ORDER.indexOf(a) >= ORDER.indexOf(b) ? a : b;
}

function reason(group: SuiteGroup, { suitability, because, source }: SuitabilityFigure): string {
  return `For ${group === 'pfas' ? 'PFAS' : group} it ${suitability.replaceAll('-', ' ')}: ${because} (${source}).`;
}

function materialFor(material: WettedMaterial, groups: readonly SuiteGroup[]): MaterialAnswer {
  const figures = groups.map((group) => [group, material.for[group]] as const);
  return {
    material: material.name,
    written: material.written,
    suitability: figures.reduce<Suitability>((sofar, [, one]) => worst(sofar, one.suitability), 'suits'),
    reasons: figures.map(([group, one]) => reason(group, one)),
  };
}

/** Every material with what speaks for and against it; none where no suite is known, for then nothing was checked. */
export function materialsForSuites(groups: readonly SuiteGroup[]): readonly MaterialAnswer[] {
  return groups.length === 0 ? [] : WETTED_MATERIALS.map((material) => materialFor(material, groups));
}

export interface PartMaterial {
  readonly part: string;
  readonly material: string;
}

/** What speaks against the parts at hand, each in a sentence; a material that is not known is named as well. */
export function partsAgainstSuites(parts: readonly PartMaterial[], groups: readonly SuiteGroup[]): string[] {
  if (groups.length === 0) return [];
  return parts.flatMap(({ part, material }) => {
    const named = materialsNamed(material);
    if (named.length === 0)
      return [`The ${part} of ${material} is of no material that is known here: ask for a blank.`];
    return named.flatMap((one) => {
      const { suitability, reasons } = materialFor(one, groups);
      return suitability === 'does-not-suit'
        ? [`The ${part} of ${material} does not suit. ${reasons.filter((text) => text.includes('does not')).join(' ')}`]
        : [];
    });
  });
}
