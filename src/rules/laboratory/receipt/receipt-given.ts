import { z } from 'zod';
import type { FieldsOf } from '../../../protocol/kind.ts';
import { ITEM_CONDITIONS, type sampleReceipt, TEMPERATURE_OF } from '../../../protocol/kinds/sample-receipt.ts';
import { decimal, instant, LONG_TEXT, text } from '../../../protocol/primitives.ts';

export type ReceiptFields = FieldsOf<typeof sampleReceipt>;
export type GivenItem = NonNullable<ReceiptFields['items']>[number];

const MOST_LABELS = 2_000;

const item = z.strictObject({
  label: text(64).describe('As read; of a bottle without one, how it was told apart'),
  condition: z.enum(ITEM_CONDITIONS),
  ph: decimal.optional(),
  temperatureC: decimal.optional(),
  remark: text(1_000).optional(),
});

/** What a laboratory says of what it received. */
export const receiptGiven = z
  .strictObject({
    cooler: text(64).optional().describe('Its number as written on it, or its id on the list; none for loose bottles'),
    received: instant,
    receivedBy: text().optional().describe('Who opened it, by name'),
    temperatureC: decimal.optional(),
    temperatureOf: z.enum(TEMPERATURE_OF).optional(),
    ice: z.boolean().optional().describe('Whether there was ice left'),
    sealsIntact: z.boolean().optional(),
    sealNumbers: z.array(text(64)).max(100).optional().describe('As read on the seals'),
    containersCounted: z.int().min(0).max(100_000).optional(),
    labels: z
      .array(text(64))
      .max(MOST_LABELS)
      .optional()
      .describe('Every label that was read in this cooler: what was sent and is in none of its receipts did not come'),
    items: z.array(item).max(MOST_LABELS).optional().describe('Bottles that something is to be said of'),
    remark: text(LONG_TEXT).optional(),
  })
  .meta({ id: 'ReceiptGiven', description: 'What was found when a cooler was opened at the laboratory' });
export type ReceiptGiven = z.output<typeof receiptGiven>;

function inferred({ labels, items = [] }: ReceiptGiven, sent: ReadonlySet<string>): readonly GivenItem[] {
  if (labels === undefined) return [];
  const said = new Set(items.map(({ label }) => label));
  const read = new Set(labels);
  const missing = [...sent].filter((label) => !read.has(label) && !said.has(label));
  const extra = [...read].filter((label) => !sent.has(label) && !said.has(label));
  return [
    ...missing.map((label) => ({ label, condition: 'missing' as const })),
    ...extra.map((label) => ({ label, condition: 'extra' as const })),
  ];
}

function countOf({ containersCounted, labels, items = [] }: ReceiptGiven): number | undefined {
  if (containersCounted !== undefined || labels === undefined) return containersCounted;
  const came = items.flatMap(({ label, condition }) => (condition === 'missing' ? [] : [label]));
  return new Set([...labels, ...came]).size;
}

function defined<Value extends object>(value: Value): Partial<Value> {
  return Object.fromEntries(Object.entries(value).filter(([, one]) => one !== undefined)) as Partial<Value>;
}

/**
 * What a receipt says as a record: beside what was said, what follows from the labels that were read.
 *
 * @param known of the bottles that were sent, their labels; or, where the receipt is on record already, what it says of
 * bottles, so that a request that is repeated gives the same record whatever was packed since
 */
export function receiptFields(
  given: ReceiptGiven,
  known: { readonly sent: ReadonlySet<string> } | { readonly before: readonly GivenItem[] },
): Partial<ReceiptFields> {
  const { cooler: _number, items = [], ...said } = given;
  const own = new Set(items.map(({ label }) => label));
  const also = 'before' in known ? known.before.filter(({ label }) => !own.has(label)) : inferred(given, known.sent);
  const all = [...items.map((one) => defined(one) as GivenItem), ...also];
  return defined({
    ...said,
    containersCounted: countOf(given),
    items: all.length === 0 ? undefined : all,
  }) as Partial<ReceiptFields>;
}
