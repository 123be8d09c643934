import type { ITEM_CONDITIONS } from '../../protocol/kinds/sample-receipt.ts';
import { byKey } from '../equipment/by-key.ts';
import type { EventSamples } from './event-samples.ts';
import { laboratoryOf } from './laboratory-of.ts';
import { missingThatCame, receiptsInOrder } from './receipt-words.ts';
import type { ContainerRecord, ReceiptRecord } from './sample-records.ts';
import type { SamplesIndex } from './samples-index.ts';

export interface ReceivedAs {
  readonly receipt: string;
  readonly at: string;
  readonly condition: (typeof ITEM_CONDITIONS)[number];
  readonly remark: string | undefined;
}

/**
 * The container that a receipt means by a label: one in its cooler, else one that may go to its laboratory. The label of a
 * bottle that goes elsewhere was misread, or is another's. What was filled comes before what was thrown away.
 */
function meant(
  index: SamplesIndex,
  { cooler, laboratory }: ReceiptRecord['fields'],
  labelled: readonly ContainerRecord[],
): ContainerRecord | undefined {
  const filledFirst = labelled.toSorted(
    (a, b) => Number(b.fields.standing === 'filled') - Number(a.fields.standing === 'filled'),
  );
  const packed = cooler === undefined ? undefined : filledFirst.find(({ fields }) => fields.cooler === cooler);
  if (packed) return packed;
  const by = laboratory ?? index.coolers.get(cooler ?? '')?.fields.laboratory;
  return filledFirst.find((one) => {
    const its = by === undefined ? undefined : laboratoryOf(index, one)?.id;
    return its === undefined || its === by;
  });
}

/**
 * What the laboratory said of each container. A receipt of a cooler tells that all that was packed into it as filled came,
 * and what it names by its label as it says. Of two that name a label the later has the last word; one that does not name
 * it, such as one that adds the temperature, takes back nothing. A label that was read came: one that lists what it read
 * says of another bottle that it did not come only where no other receipt of the cooler read it, and nothing of the
 * condition that was told. Of a container that is not in the answer nothing was said.
 */
export function receivedContainers(
  { containers, receipts }: EventSamples,
  index: SamplesIndex,
): ReadonlyMap<string, ReceivedAs> {
  const labelled = byKey(containers, ({ fields }) => fields.label);
  const packed = byKey(containers, ({ fields: { cooler, standing } }) => (standing === 'filled' ? cooler : undefined));
  // what is to be compared with one another: of loose bottles, all receipts of such
  const together = byKey(receipts, ({ fields }) => fields.cooler ?? '');
  const said = new Map<string, ReceivedAs>();
  for (const one of receiptsInOrder(receipts)) {
    const { id: receipt, fields } = one;
    const as = (condition: ReceivedAs['condition'], remark?: string): ReceivedAs => ({
      receipt,
      at: fields.received,
      condition,
      remark,
    });
    const came = missingThatCame(one, together.get(fields.cooler ?? '') ?? []);
    const items = fields.items ?? [];
    const missing = new Set(items.flatMap(({ label, condition }) => (condition === 'missing' ? [label] : [])));
    for (const { id, fields: its } of packed.get(fields.cooler ?? '') ?? []) {
      if (!said.has(id) && !missing.has(its.label)) said.set(id, as('ok'));
    }
    for (const label of fields.labels ?? []) {
      const container = meant(index, fields, labelled.get(label) ?? []);
      if (container && !isReceived(said.get(container.id))) said.set(container.id, as('ok'));
    }
    for (const { label, condition, remark } of items) {
      if (condition === 'missing' && came.has(label)) continue;
      const container = meant(index, fields, labelled.get(label) ?? []);
      if (container) said.set(container.id, as(condition, remark ?? undefined));
    }
  }
  return said;
}

/** Whether it came, in whatever condition. */
export function isReceived(said: ReceivedAs | undefined): said is ReceivedAs {
  return said !== undefined && said.condition !== 'missing';
}
