import type { ITEM_CONDITIONS } from '../../protocol/kinds/sample-receipt.ts';
import { instantMs } from '../../science/instant-ms.ts';
import type { EventSamples } from './event-samples.ts';
import { laboratoryOf } from './laboratory-of.ts';
import type { ContainerRecord, ReceiptRecord } from './sample-records.ts';
import type { SamplesIndex } from './samples-index.ts';

export interface ReceivedAs {
  readonly receipt: string;
  readonly at: string;
  readonly condition: (typeof ITEM_CONDITIONS)[number];
  readonly remark: string | undefined;
}

function gathered(
  containers: readonly ContainerRecord[],
  keyOf: (fields: ContainerRecord['fields']) => string | undefined,
): ReadonlyMap<string, readonly ContainerRecord[]> {
  const found = new Map<string, ContainerRecord[]>();
  for (const one of containers) {
    const key = keyOf(one.fields);
    if (key !== undefined) found.set(key, [...(found.get(key) ?? []), one]);
  }
  return found;
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
 * it, such as one that adds the temperature, takes back nothing. Of a container that is not in the answer nothing was said.
 */
export function receivedContainers(
  { containers, receipts }: EventSamples,
  index: SamplesIndex,
): ReadonlyMap<string, ReceivedAs> {
  const labelled = gathered(containers, ({ label }) => label);
  const packed = gathered(containers, ({ cooler, standing }) => (standing === 'filled' ? cooler : undefined));
  const said = new Map<string, ReceivedAs>();
  const inOrder = receipts.toSorted((a, b) => instantMs(a.fields.received) - instantMs(b.fields.received));
  for (const { id: receipt, fields } of inOrder) {
    const as = (condition: ReceivedAs['condition'], remark?: string): ReceivedAs => ({
      receipt,
      at: fields.received,
      condition,
      remark,
    });
    for (const { id } of packed.get(fields.cooler ?? '') ?? []) {
      if (!said.has(id)) said.set(id, as('ok'));
    }
    for (const { label, condition, remark } of fields.items ?? []) {
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
