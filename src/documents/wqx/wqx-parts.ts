import { csvLine } from '../csv/csv-cell.ts';
import { xmlText } from '../svg/svg-text.ts';
import { activityElement } from './activity-element.ts';
import type { Element } from './element.ts';
import { activityLines, LOCATION_PATHS, line, RESULT_PATHS } from './wqx-csv.ts';
import type { NotExported, WqxActivity, WqxFacts } from './wqx-facts.ts';
import { WQX_NAMESPACE } from './wqx-schema.ts';
import { TWICE, wqxTree } from './wqx-tree.ts';
import { write } from './wqx-xml.ts';

/** The same facts, with activities that are made one after the other. */
export interface WqxParts extends Omit<WqxFacts, 'activities'> {
  readonly activities: Iterable<WqxActivity>;
  /** What was known from the start to be told by no element. */
  readonly notTold: readonly NotExported[];
}

interface Part {
  readonly elements: readonly Element[];
  readonly notExported: readonly NotExported[];
}

/** One activity after the other; an identifier that comes twice would replace the first at the other side. */
function* activityParts(activities: Iterable<WqxActivity>): Generator<Part, void> {
  const seen = new Set<string>();
  for (const activity of activities) {
    const { identifier } = activity;
    if (seen.has(identifier)) yield { elements: [], notExported: [{ what: `activity ${identifier}`, why: TWICE }] };
    else yield activityElement(activity);
    seen.add(identifier);
  }
}

/** All that is not in the export, with why, whatever form that has. */
export function wqxNotExported(parts: WqxParts): readonly NotExported[] {
  const left = [...wqxTree(parts).notExported];
  for (const { notExported } of activityParts(parts.activities)) left.push(...notExported);
  return [...parts.notTold, ...left];
}

/** A comment of XML must not hold two hyphens in a row, nor end with one. XML 1.0, 2.5. */
function comment(text: string): string {
  return `<!-- ${xmlText(text).replace(/-(?=-)/g, '- ')} -->\n`;
}

/** One line a reason, so that a thousand of one kind do not hide the others. */
function* notExportedComments(left: readonly NotExported[]): Generator<string, void> {
  const whats = new Map<string, string[]>();
  for (const { what, why } of left) {
    const its = whats.get(why);
    if (its) its.push(what);
    else whats.set(why, [what]);
  }
  for (const [why, [first = '', ...more]] of whats)
    yield comment(`Not exported: ${first}${more.length > 0 ? ` and ${more.length} more` : ''}: ${why}`);
}

/** The export as one XML document, activity by activity; comments after it say what is not in it. */
export function* wqxXmlParts(parts: WqxParts): Generator<string, void> {
  const { organization, projects, locations, notExported } = wqxTree(parts);
  const left = [...parts.notTold, ...notExported];
  yield `<?xml version="1.0" encoding="UTF-8"?>\n<WQX xmlns="${WQX_NAMESPACE}">\n  <Organization>\n`;
  for (const one of [...organization, ...projects, ...locations]) yield write(one, '    ');
  for (const one of activityParts(parts.activities)) {
    yield one.elements.map((element) => write(element, '    ')).join('');
    left.push(...one.notExported);
  }
  yield '  </Organization>\n</WQX>\n';
  yield* notExportedComments(left);
}

/** The table of locations, or that of activities with their results. CSV has no comments: what is not in it is told apart. */
export function* wqxCsvParts(parts: WqxParts, table: 'results' | 'locations'): Generator<string, void> {
  if (table === 'locations') {
    yield csvLine(LOCATION_PATHS);
    for (const one of wqxTree(parts).locations) yield line(LOCATION_PATHS, [one]);
    return;
  }
  yield csvLine(RESULT_PATHS);
  for (const { elements } of activityParts(parts.activities)) yield elements.flatMap(activityLines).join('');
}
