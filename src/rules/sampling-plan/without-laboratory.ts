import { z } from 'zod';
import { isOrdered } from './bottle-order.ts';
import type { PlanProposal } from './propose-plan.ts';
import type { SuiteBook } from './suite-book.ts';

export const withoutLaboratoryShape = z.strictObject({
  suite: z.string(),
  groups: z.array(z.string()).describe('Of which no laboratory is named'),
  containers: z.int().min(0).describe('That go nowhere yet'),
});

/** A suite of which containers go to no laboratory: the firm has not just one, and nobody chose. */
export interface WithoutLaboratory {
  readonly suite: string;
  readonly groups: readonly string[];
  readonly containers: number;
}

export function withoutLaboratory({ samples, adopted }: PlanProposal): readonly WithoutLaboratory[] {
  const found = new Map<string, { groups: Set<string>; containers: number }>();
  const all = [...samples, ...adopted.map(({ sample }) => sample)].flatMap(({ containers }) => containers);
  for (const one of all.filter(isOrdered)) {
    if (one.laboratory !== null || one.suite === null) continue;
    const its = found.get(one.suite) ?? { groups: new Set(), containers: 0 };
    for (const group of [one.group, ...one.alsoGroups]) its.groups.add(group);
    its.containers += 1;
    found.set(one.suite, its);
  }
  return [...found]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([suite, { groups, containers }]) => ({ suite, groups: [...groups].toSorted(), containers }));
}

/** What to do about it, in words. */
export function laboratoryNotes(lost: readonly WithoutLaboratory[], { laboratories }: SuiteBook): readonly string[] {
  if (lost.length === 0) return [];
  const suites = lost.map(
    ({ suite, groups, containers }) => `${suite} (${groups.join(', ')}; containers: ${containers})`,
  );
  const start = `No laboratory is named for ${suites.join(', ')}`;
  if (laboratories.size === 0) return [`${start}, and none is on record: record it (POST /v1/laboratories).`];
  const names = [...laboratories.values()].toSorted().join(', ');
  return [
    `${start}, and the firm has ${laboratories.size} (${names}): name one for each suite in laboratoryOf of the plan of the event, or for its groups in the suite.`,
  ];
}
