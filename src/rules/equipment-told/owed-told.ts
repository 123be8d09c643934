import { z } from 'zod';
import type { FieldsOf } from '../../protocol/kind.ts';
import { ADDRESSEES, type flag, SEVERITIES } from '../../protocol/kinds/flag.ts';
import { date, id } from '../../protocol/primitives.ts';
import type { RecordState } from '../../protocol/record.ts';
import { equipmentFlagId } from '../derive/equipment-derived.ts';
import type { EquipmentFacts } from '../equipment/faults/equipment-rule.ts';
import { type EquipmentFinding, equipmentFindings } from '../equipment/faults.ts';
import { type OwedFinding, owedCleaning } from './owed-cleaning.ts';
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

/** What is owed until it is done. */
export const OWED_UNTIL_DONE = Object.keys(OWED).filter((code) => OWED[code] === 'until-done');

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

type Item = OwedTold['items'][number];

function itemOf({ code, unit, severity, addressee, sentence, visit, evidence }: OwedFinding, names: ToldNames): Item {
  const records = [...new Set(evidence.map(({ record }) => record))];
  return { code, unit, label: names.unit(unit), severity, addressee, sentence, visit, evidence: records };
}

/** A stored flag as what was found. */
function foundBefore({ fields }: RecordState): EquipmentFinding {
  const { rule, visit, ...its } = fields as unknown as FieldsOf<typeof flag>;
  return { ...(its as unknown as EquipmentFinding), code: rule, visit: visit ?? null };
}

interface OwedOf {
  readonly firm: string;
  readonly units: readonly string[];
  readonly day: string;
  /** Flags about the units that stand until they are done. */
  readonly stored: readonly RecordState[];
  /** What the facts are of: a flag that rests on more is taken as it is stored, since it lies further back. */
  readonly looked: ReadonlySet<string>;
}

/** @param facts of the event alone, in which the day counts as over */
export function owedItems(
  facts: EquipmentFacts,
  { firm, units, day, stored, looked }: OwedOf,
  { names, sight }: { readonly names: ToldNames; readonly sight: Sight },
): OwedTold['items'] {
  const asked = new Set(units);
  const isSeen = (visit: string | null) => visit === null || sight.sees(facts.index.visits.get(visit)?.event);
  const before = stored.map((state) => [state.id, foundBefore(state)] as const);
  const known = new Map(before.filter(([, { evidence }]) => evidence.some(({ record }) => !looked.has(record))));
  const fresh = equipmentFindings(facts).filter((finding) => asked.has(finding.unit) && isOwed(finding, day));
  const all = [...known, ...fresh.map((finding) => [equipmentFlagId(firm, finding), finding] as const)];
  const once = new Map(all.map(([id, finding]) => [id, known.get(id) ?? finding]));
  const order = ({ code, unit, sentence }: Item) => `${code} ${unit} ${sentence}`;
  const cleaning = owedCleaning(facts.index, units, day);
  return [...once.values(), ...cleaning]
    .filter(({ visit }) => isSeen(visit))
    .map((finding) => itemOf(finding, names))
    .toSorted((a, b) => (order(a) < order(b) ? -1 : 1));
}
