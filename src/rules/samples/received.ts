import type { ITEM_CONDITIONS } from '../../protocol/kinds/sample-receipt.ts';
import { instantMs } from '../../science/instant-ms.ts';
import type { EventSamples } from './event-samples.ts';

export interface ReceivedAs {
  readonly receipt: string;
  readonly at: string;
  readonly condition: (typeof ITEM_CONDITIONS)[number];
  readonly remark: string | undefined;
}

/**
 * What the laboratory said of each container. A receipt of a cooler tells that all that was packed into it as filled came,
 * and what it names by its label as it says. Of two that name a label the later has the last word; one that does not name
 * it, such as one that adds the temperature, takes back nothing. Of a container that is not in the answer nothing was said.
 */
export function receivedContainers({ containers, receipts }: EventSamples): ReadonlyMap<string, ReceivedAs> {
  const labels = new Map(containers.map((container) => [container.fields.label, container.id]));
  const packed = new Map<string, string[]>();
  for (const { id, fields } of containers) {
    if (fields.cooler === undefined || fields.standing !== 'filled') continue;
    packed.set(fields.cooler, [...(packed.get(fields.cooler) ?? []), id]);
  }
  const said = new Map<string, ReceivedAs>();
  const inOrder = receipts.toSorted((a, b) => instantMs(a.fields.received) - instantMs(b.fields.received));
  for (const { id: receipt, fields } of inOrder) {
    const as = (condition: ReceivedAs['condition'], remark?: string): ReceivedAs => ({
      receipt,
      at: fields.received,
      condition,
      remark,
    });
    for (const id of packed.get(fields.cooler ?? '') ?? []) {
      if (!said.has(id)) said.set(id, as('ok'));
    }
    for (const { label, condition, remark } of fields.items ?? []) {
      const id = labels.get(label);
      if (id !== undefined) said.set(id, as(condition, remark ?? undefined));
    }
  }
  return said;
}

/** Whether it came, in whatever condition. */
export function isReceived(said: ReceivedAs | undefined): said is ReceivedAs {
  return said !== undefined && said.condition !== 'missing';
}
