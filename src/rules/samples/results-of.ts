import type { ContainerRecord, ResultRecord, SuiteRecord } from './sample-records.ts';
import type { SamplesIndex } from './samples-index.ts';

function isOf(suite: SuiteRecord, { fields }: ResultRecord): boolean {
  const name = fields.analyte.toLowerCase();
  return (suite.fields.analytes ?? []).some((one) =>
    one.casNumber != null && fields.casNumber !== undefined
      ? one.casNumber === fields.casNumber
      : one.name.toLowerCase() === name,
  );
}

/** The results of a sample or blank that are of a suite: of the analytes that it lists, or all where it is the only one. */
export function resultsOfSuite(
  index: SamplesIndex,
  holder: string,
  suite: SuiteRecord,
  suites: readonly string[],
): readonly ResultRecord[] {
  const all = index.results.get(holder) ?? [];
  if (suite.fields.analytes === undefined && suites.length === 1 && suites[0] === suite.fields.name) return all;
  return all.filter((result) => isOf(suite, result));
}

/**
 * The results that a container gave, as far as that can be told: a result names its sample and no bottle, so that only those
 * of a suite with a single group have a bottle of their own.
 */
export function resultsOfContainer(
  index: SamplesIndex,
  { fields }: ContainerRecord,
  suite: SuiteRecord | undefined,
): readonly ResultRecord[] {
  const holder = fields.sample ?? fields.blank;
  if (holder === undefined || suite?.fields.groups.length !== 1) return [];
  const suites = (index.samples.get(holder) ?? index.blanks.get(holder))?.fields.suites ?? [];
  return resultsOfSuite(index, holder, suite, suites);
}
