import type { Statements } from './statement.ts';
import type { Tables, TypedEntry } from './tables.ts';
import { textsIn } from './wire-array.ts';

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

/** The coolers with a laboratory that hold a container for a group that a suite sends elsewhere. */
function suiteCoolers(tables: Tables, suites: readonly string[], groups: readonly (string | null)[]): object[] {
  const rows = (table: string) => [...tables.typedOf(table).values()];
  const sent = new Set(rows('cooler').flatMap(({ id, laboratory }) => ((laboratory ?? null) === null ? [] : [id])));
  const coolers = suites.flatMap((suite, at) => {
    const naming = (table: string) =>
      new Set<unknown>(rows(table).flatMap((row) => (listOf(row.suites).includes(suite) ? [row.id] : [])));
    const [samples, blanks, planned] = [naming('sample'), naming('blank'), naming('planned_sample')];
    const isFor = (one: TypedEntry) =>
      one.suite === suite || samples.has(one.sample) || blanks.has(one.blank) || planned.has(one.planned);
    const group = groups[at] ?? null;
    return rows('container')
      .filter((one) => isFor(one) && (group === null || one.group === group) && sent.has(one.cooler))
      .map(({ cooler }) => cooler);
  });
  return [...new Set(coolers)].map((cooler) => ({ cooler }));
}

/** What coolers are judged by, beside what is looked up as it is. */
export const COOLER_STATEMENTS: Statements = {
  'suite-coolers': (tables, [, suites, groups]) =>
    suiteCoolers(tables, textsIn(suites), groups as readonly (string | null)[]),
};
