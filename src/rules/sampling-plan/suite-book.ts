import type { SamplingPlan } from '../../protocol/sampling-plan.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import type { SuiteRecord } from '../samples/sample-records.ts';

/** Suites by the names that samples use, and the laboratories that they may go to. */
export interface SuiteBook {
  readonly suites: ReadonlyMap<string, SuiteRecord>;
  /** The only laboratory of the firm; null where it has none or several. */
  readonly onlyLaboratory: string | null;
  /** Names by id. */
  readonly laboratories: ReadonlyMap<string, string>;
}

/** Of two suites of one name the first by its id counts. */
export function suiteBook({ suites, laboratories }: Pick<EventSamples, 'suites' | 'laboratories'>): SuiteBook {
  const [only] = laboratories;
  return {
    suites: new Map(suites.toReversed().map((suite) => [suite.fields.name, suite])),
    onlyLaboratory: laboratories.length === 1 && only ? only.id : null,
    laboratories: new Map(laboratories.map(({ id, fields }) => [id, fields.name])),
  };
}

/** Those of these suites that are known, in the order given. */
export function knownSuites({ suites }: SuiteBook, names: readonly string[]): readonly SuiteRecord[] {
  return names.flatMap((name) => suites.get(name) ?? []);
}

/** Where a group of a suite goes: as the suite says for the group, as the plan says for the suite, to the only one. */
export function suiteLaboratory(
  book: SuiteBook,
  plan: SamplingPlan | null,
  suite: string | undefined,
  group: string,
): string | null {
  const ofGroup = suite === undefined ? undefined : book.suites.get(suite)?.fields.groups;
  const named = ofGroup?.find((one) => one.group === group)?.laboratory;
  return named ?? plan?.laboratoryOf?.find((one) => one.suite === suite)?.laboratory ?? book.onlyLaboratory;
}
