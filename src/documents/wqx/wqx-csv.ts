import { csvLine } from '../csv/csv-cell.ts';
import type { Element } from './element.ts';
import { ACTIVITY, type ElementRule, LOCATION, RESULT, SAMPLE } from './wqx-schema.ts';

/** Leaves by their path, as "ResultMeasure/MeasureUnitCode"; the name of the outermost element is left out. */
function pathsOf(rule: ElementRule, before: string): readonly string[] {
  if (!rule.children) return [`${before}${rule.name}`];
  return rule.children.flatMap((one) => pathsOf(one, `${before}${rule.name}/`));
}

const below = (rule: ElementRule) => (rule.children ?? []).flatMap((one) => pathsOf(one, ''));

function gather({ name, text, children = [] }: Element, before: string, into: Map<string, string[]>): void {
  const path = `${before}${name}`;
  if (text !== undefined) into.set(path, [...(into.get(path) ?? []), text]);
  for (const one of children) gather(one, `${path}/`, into);
}

/** Several of one element stand in one cell, with a semicolon between them. */
export function line(paths: readonly string[], elements: readonly Element[]): string {
  const found = new Map<string, string[]>();
  for (const element of elements) for (const one of element.children ?? []) gather(one, '', found);
  return csvLine(paths.map((path) => found.get(path)?.join('; ')));
}

export const LOCATION_PATHS = below(LOCATION);
export const RESULT_PATHS = [...below(ACTIVITY), ...below(SAMPLE), ...below(RESULT)];

/** One line a result; an activity without any has one line. */
export function activityLines(activity: Element): readonly string[] {
  const parts = activity.children ?? [];
  const about = parts.filter(({ name }) => name !== 'Result');
  const results = parts.filter(({ name }) => name === 'Result');
  return results.length === 0
    ? [line(RESULT_PATHS, about)]
    : results.map((result) => line(RESULT_PATHS, [...about, result]));
}
