import type { EventSamples } from '../samples/event-samples.ts';
import { type ReceivedAs, receivedContainers } from '../samples/received.ts';
import { type ContainerRecord, indexSamples, type SamplesIndex } from '../samples/samples-index.ts';

type Receipt = EventSamples['receipts'][number]['fields'];
export type ReceiptItem = NonNullable<Receipt['items']>[number];

/** What the rows of a list are looked up in. */
export interface ListWorld {
  readonly of: EventSamples;
  readonly index: SamplesIndex;
  readonly timeZone: string;
  readonly received: ReadonlyMap<string, ReceivedAs>;
  readonly receipts: ReadonlyMap<string, Receipt>;
  /** Of each receipt, what it says of bottles, by their labels. */
  readonly items: ReadonlyMap<string, ReadonlyMap<string, ReceiptItem>>;
  /** Coolers that somebody relinquished. */
  readonly relinquished: ReadonlySet<string>;
}

function itemsOf({ items = [] }: Receipt): ReadonlyMap<string, ReceiptItem> {
  return new Map(items.map((item) => [item.label, item]));
}

export function listWorld(of: EventSamples): ListWorld {
  const relinquished = of.handOvers.flatMap(({ fields }) => (fields.side === 'relinquished' ? [fields.cooler] : []));
  return {
    of,
    index: indexSamples(of),
    timeZone: of.site?.fields.timeZone ?? 'UTC',
    received: receivedContainers(of),
    receipts: new Map(of.receipts.map(({ id, fields }) => [id, fields])),
    items: new Map(of.receipts.map(({ id, fields }) => [id, itemsOf(fields)])),
    relinquished: new Set(relinquished),
  };
}

/** What the laboratory said of one bottle, and of what came with it. */
export interface SaidOf {
  readonly as: ReceivedAs | undefined;
  readonly item: ReceiptItem | undefined;
  /** Its own temperature, else that of the cooler it came in. */
  readonly temperatureC: string | undefined;
}

export function saidOf({ received, receipts, items }: ListWorld, { id, fields }: ContainerRecord): SaidOf {
  const as = received.get(id);
  const item = as && items.get(as.receipt)?.get(fields.label);
  const isHere = as !== undefined && as.condition !== 'missing';
  const ofCooler = isHere ? receipts.get(as.receipt)?.temperatureC : undefined;
  return { as, item, temperatureC: item?.temperatureC ?? ofCooler };
}
