import { z } from 'zod';
import { BLANK_RULES, type BlankRuleId } from '../../../catalog/decon/blank-rules.ts';
import { isSameAnalyte } from '../../decon/analyte-key.ts';
import { amountOf, shownResult } from '../../decon/analyte-result.ts';
import { blankFactor, DEFAULT_BLANK_RULE, judgeAgainstBlank } from '../../decon/blank-limit.ts';
import type { ResultRecord } from '../../equipment/equipment-records.ts';
import { countStandings, SAMPLE_STANDINGS } from '../../equipment/judged-sample.ts';
import { detected, judgementOf } from '../../equipment/samples-behind-blank.ts';
import { judgementFields } from '../../equipment-told/carrier-told.ts';
import { count, recordId } from '../../equipment-told/told-fields.ts';
import { countText } from '../../flags/list-text.ts';
import type { BlankRecord, SampleRecord } from '../sample-records.ts';
import type { SamplesIndex } from '../samples-index.ts';
import { type SpokenFor, spokenFor } from './spoken-for.ts';

/** Samples of one analyte that are listed; those in question come first, so that what is cut off is cleared. */
const SHOWN = 200;

const sampleShape = z.strictObject({ sample: recordId('sample'), number: z.string(), ...judgementFields });

/** One analyte that was found in a field or trip blank, and the samples that this blank speaks for. */
export const questionedShape = z.strictObject({
  blank: recordId('blank'),
  number: z.string(),
  type: z.enum(['field', 'trip']),
  analyte: z.string(),
  casNumber: z.string().nullable(),
  found: z.array(z.string()).describe('As reported, with the unit; none where no figure is given'),
  sentence: z.string(),
  inQuestion: count,
  cannotTell: count.describe('Those without a result for it yet are among them'),
  cleared: count,
  samples: z.array(sampleShape).describe('Those in question first, then those that cannot be told, then those cleared'),
  leftOut: count.describe('Counted above and not listed'),
  source: z.string().describe('Of how a sample is judged by a blank'),
  verified: z.boolean(),
});
export type Questioned = z.output<typeof questionedShape>;

function isAsked(index: SamplesIndex, { id, fields }: SampleRecord, blank: BlankRecord, first: ResultRecord): boolean {
  if ((index.results.get(id) ?? []).some((one) => isSameAnalyte(one.fields, first.fields))) return true;
  return fields.suites.some((suite) => blank.fields.suites.some((one) => one.toLowerCase() === suite.toLowerCase()));
}

function sentenceOf(
  { number, type, analyte, found, inQuestion, cannotTell, cleared }: Omit<Questioned, 'sentence'>,
  { because }: SpokenFor,
): string {
  const shown = found.length === 0 ? '' : ` (${found.join(', ')})`;
  const all = inQuestion + cannotTell + cleared;
  const said = `${analyte} was found in the ${type} blank ${number}${shown}`;
  if (all === 0) return `${said}: no sample is known that it speaks for, ${because}.`;
  const untold = cannotTell > 0 ? `, ${cannotTell} cannot be told` : '';
  return `${said}: of ${countText(all, 'sample')} ${because} ${inQuestion} in question, ${cleared} cleared${untold}.`;
}

type Type = Questioned['type'];

type OfType = BlankRecord & { readonly fields: { readonly type: Type } };

interface Judging {
  readonly index: SamplesIndex;
  readonly blank: OfType;
  readonly ruleId: BlankRuleId;
}

/** @param found of one analyte */
function questionedBy({ index, blank, ruleId }: Judging, found: readonly ResultRecord[]): Questioned[] {
  const [first] = found;
  if (!first) return [];
  const of = spokenFor(index, blank, first.fields);
  const rule = BLANK_RULES[ruleId];
  const samples = of.samples.filter((one) => of.isByBottle || isAsked(index, one, blank, first));
  const judged = samples.map(({ id: sample, fields: { number } }) => {
    const results = index.results.get(sample) ?? [];
    const by = judgementOf(results, found, number, (its, clean) => judgeAgainstBlank(clean, its, ruleId));
    return { sample, number, standing: by.standing, sentence: by.sentence };
  });
  const inOrder = SAMPLE_STANDINGS.flatMap((standing) => judged.filter((one) => one.standing === standing));
  const told = {
    blank: blank.id,
    number: blank.fields.number,
    type: blank.fields.type,
    analyte: first.fields.analyte,
    casNumber: first.fields.casNumber ?? null,
    found: found.flatMap(({ fields }) => amountOf(fields) ?? []).map(({ value, unit }) => shownResult(value, unit)),
    ...countStandings(judged),
    samples: inOrder.slice(0, SHOWN),
    leftOut: Math.max(inOrder.length - SHOWN, 0),
    source: rule.source,
    verified: blankFactor(rule, first.fields.casNumber).verified,
  };
  return [{ ...told, sentence: sentenceOf(told, of) }];
}

function isOfType(blank: BlankRecord): blank is OfType {
  return blank.fields.type === 'field' || blank.fields.type === 'trip';
}

function byText(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}

/**
 * What was found in field and trip blanks, and each sample that they speak for judged by it. By the records alone, in
 * whatever order they came; what shows below the reporting limit is no failure of a blank. Equipment blanks have a flag of
 * their own, as what shares a unit with them may be of another event.
 *
 * Source: that a blank must stay below the reporting limit, sampling plans, county file, doc 567537, page 35, and doc
 * 932734, page 226; how a sample is judged by it, the rule of the plan, as for equipment blanks.
 */
export function questionedByBlanks(index: SamplesIndex): readonly Questioned[] {
  const { plan } = index.of.event.fields;
  const ruleId = plan.equipment?.blankRule ?? DEFAULT_BLANK_RULE;
  return index.of.blanks
    .filter(isOfType)
    .flatMap((blank) => {
      const results = detected(index.results.get(blank.id) ?? []);
      if (results.length === 0) return [];
      return results.flatMap((found) => questionedBy({ index, blank, ruleId }, found));
    })
    .toSorted((a, b) => byText(a.number, b.number) || byText(a.analyte, b.analyte));
}
