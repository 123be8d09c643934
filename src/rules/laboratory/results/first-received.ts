import { instantMs } from '../../../science/instant-ms.ts';
import type { EventSamples } from '../../samples/event-samples.ts';
import { isReceived, type ReceivedAs, receivedContainers } from '../../samples/received.ts';
import type { ContainerRecord } from '../../samples/sample-records.ts';
import type { SamplesIndex } from '../../samples/samples-index.ts';

interface Reporting {
  readonly of: EventSamples;
  readonly laboratory: string | null;
}

/** What the laboratory whose report it is said of each bottle. */
export function receivedBy({ of, laboratory }: Reporting, index: SamplesIndex): ReadonlyMap<string, ReceivedAs> {
  const receipts = of.receipts.filter(({ fields }) => laboratory === null || fields.laboratory === laboratory);
  return receivedContainers({ ...of, receipts }, index);
}

/**
 * Of each sample and blank, when the first of its bottles came.
 *
 * @param received by the laboratory whose report it is
 */
export function firstReceived(
  containers: readonly ContainerRecord[],
  received: ReadonlyMap<string, ReceivedAs>,
): ReadonlyMap<string, string> {
  const first = new Map<string, string>();
  for (const { id, fields } of containers) {
    const holder = fields.sample ?? fields.blank;
    const said = received.get(id);
    if (holder === undefined || !isReceived(said)) continue;
    const before = first.get(holder);
    if (before === undefined || instantMs(said.at) < instantMs(before)) first.set(holder, said.at);
  }
  return first;
}
