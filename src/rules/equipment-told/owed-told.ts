import { z } from 'zod';
import { ADDRESSEES, SEVERITIES } from '../../protocol/kinds/flag.ts';
import { date, id } from '../../protocol/primitives.ts';
import type { EquipmentFacts } from '../equipment/faults/equipment-rule.ts';
import { type EquipmentFinding, equipmentFindings } from '../equipment/faults.ts';
import type { Sight } from './sight.ts';
import { maybeRecordId, recordId } from './told-fields.ts';
import type { ToldNames } from './told-names.ts';

/** What a crew can still do at the truck, by whether it is owed of that day or until it is done. */
const OWED: Readonly<Record<string, 'of-the-day' | 'until-done'>> = {
  'unit-left-uncleaned': 'until-done',
  'rinsate-missing': 'of-the-day',
  'meter-check-after-missing': 'of-the-day',
  'decon-water-without-drum': 'until-done',
  'part-lot-missing': 'until-done',
  'tape-check-overdue': 'until-done',
  'service-overdue': 'until-done',
};

export const owedInput = z.strictObject({
  day: date.optional().describe('By the calendar of the site. Default: today there'),
});
export type OwedGiven = z.output<typeof owedInput>;

const owedItem = z.strictObject({
  code: z.string().describe('Of the rule: see GET /v1/flag-rules'),
  unit: recordId('unit'),
  label: z.string().nullable(),
  severity: z.enum(SEVERITIES),
  addressee: z.enum(ADDRESSEES),
  sentence: z.string(),
  visit: maybeRecordId('visit'),
  evidence: z.array(id).describe('Records that it rests on'),
});

/** What is still owed by the equipment of an event when a day is over. */
export const owedOutput = z.strictObject({
  event: recordId('event'),
  day: date,
  timeZone: z.string(),
  units: z.int().min(0).describe('That were looked at: at work on that day, or signed out for the event'),
  items: z.array(owedItem),
});
export type OwedTold = z.output<typeof owedOutput>;

function isOwed({ code, of }: EquipmentFinding, day: string): boolean {
  const rule = OWED[code];
  // the lot of a decon or a part is told by its record, a day by itself
  return rule === 'until-done' || (rule === 'of-the-day' && of.includes(day));
}

/** @param facts in which the day counts as over */
export function owedItems(
  facts: EquipmentFacts,
  units: readonly string[],
  day: string,
  { names, sight }: { readonly names: ToldNames; readonly sight: Sight },
): OwedTold['items'] {
  const asked = new Set(units);
  const isSeen = (visit: string | null) => visit === null || sight.sees(facts.index.visits.get(visit)?.event);
  return equipmentFindings(facts)
    .filter((finding) => asked.has(finding.unit) && isOwed(finding, day) && isSeen(finding.visit))
    .map(({ code, unit, severity, addressee, sentence, visit, evidence }) => ({
      code,
      unit,
      label: names.unit(unit),
      severity,
      addressee,
      sentence,
      visit,
      evidence: [...new Set(evidence.map(({ record }) => record))],
    }));
}
