import { instantMs } from '../../science/instant-ms.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import { type ReceivedAs, receivedContainers } from '../samples/received.ts';
import type { ContainerRecord } from '../samples/sample-records.ts';
import { indexSamples, type SamplesIndex } from '../samples/samples-index.ts';

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
  const index = indexSamples(of);
  return {
    of,
    index,
    timeZone: of.site?.fields.timeZone ?? 'UTC',
    received: receivedContainers(of, index),
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

/** Of the receipt that tells of it, else of the last of its cooler that has one: it may have been added afterwards. */
function temperatureOf({ receipts }: ListWorld, receipt: string): string | undefined {
  const its = receipts.get(receipt);
  if (its?.temperatureC !== undefined || its?.cooler === undefined) return its?.temperatureC;
  const others = [...receipts.values()].filter((one) => one.cooler === its.cooler && one.temperatureC !== undefined);
  return others.toSorted((a, b) => instantMs(a.received) - instantMs(b.received)).at(-1)?.temperatureC;
}

export function saidOf(world: ListWorld, { id, fields }: ContainerRecord): SaidOf {
  const as = world.received.get(id);
  const item = as && world.items.get(as.receipt)?.get(fields.label);
  const isHere = as !== undefined && as.condition !== 'missing';
  const ofCooler = isHere ? temperatureOf(world, as.receipt) : undefined;
  return { as, item, temperatureC: item?.temperatureC ?? ofCooler };
}
