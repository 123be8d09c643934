import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import type { ContainerRecord, SuiteRecord } from '../samples/samples-index.ts';

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

function title(group: string): string {
  return analyteGroup(group)?.title ?? group;
}

/** What is to be analysed from it, each group with the suite that asks for it. */
export function analyses({ fields }: ContainerRecord, suite: SuiteRecord | undefined): readonly string[] {
  const name = suite?.fields.name ?? fields.suite;
  return [fields.group, ...(fields.alsoGroups ?? [])].map((group) =>
    name === undefined ? title(group) : `${title(group)} (${name})`,
  );
}

export function turnaround(suite: SuiteRecord | undefined): string | undefined {
  const days = suite?.fields.turnaroundDays;
  return days === undefined ? undefined : `${days} d`;
}
