import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import type { ContainerRecord, SuiteRecord } from '../samples/sample-records.ts';
import type { Bottle } from '../sampling-plan/wanted-bottles.ts';

function words(id: string): string {
  return id.replaceAll('-', ' ');
}

/** "amber glass vial" */
export function containerType({ fields: { colour, material, type } }: ContainerRecord): string {
  return [colour, material, type].flatMap((word) => (word === undefined ? [] : words(word))).join(' ');
}

/** What is in it before water is; "none" is written out, and undefined where nobody said. */
export function preservative({ fields: { preservatives } }: ContainerRecord): string | undefined {
  if (preservatives === undefined) return undefined;
  return preservatives.length === 0 ? 'none' : preservatives.map(words).join(', ');
}

export function groupTitle(group: string): string {
  return analyteGroup(group)?.title ?? group;
}

function titles(groups: readonly string[], suite: string | undefined): readonly string[] {
  return groups.map((group) => (suite === undefined ? groupTitle(group) : `${groupTitle(group)} (${suite})`));
}

/** What is to be analysed from it, each group with the suite that asks for it. */
export function analyses({ fields }: ContainerRecord, suite: SuiteRecord | undefined): readonly string[] {
  return titles([fields.group, ...(fields.alsoGroups ?? [])], suite?.fields.name ?? fields.suite);
}

/** The same of a bottle that is planned and not made yet. */
export function bottleAnalyses({ group, alsoGroups, suite }: Bottle): readonly string[] {
  return titles([group, ...alsoGroups], suite ?? undefined);
}

export function bottleType({ colour, materials: [material], type }: Bottle): string {
  return [colour, material, type].flatMap((word) => (word == null ? [] : words(word))).join(' ');
}

export function bottlePreservative({ preservatives: [first = []] }: Bottle): string {
  return first.length === 0 ? 'none' : first.map(words).join(', ');
}

export function turnaround(suite: SuiteRecord | undefined): string | undefined {
  const days = suite?.fields.turnaroundDays;
  return days === undefined ? undefined : `${days} d`;
}
