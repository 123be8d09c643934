import { DEFAULT_FILL_ORDER, inFillOrder } from '../../../catalog/analytes/fill-orders.ts';
import { type ContainerFacts, type SampleFacts, sampleFacts } from '../fill-rules/sample-facts.ts';
import type { PlannedRecord } from '../sample-records.ts';
import type { FillRecords } from './fill-records.ts';

/** Whose water it is to hold: a sample that was taken, or one that is planned. */
export interface FillOf {
  readonly sample: string | null;
  readonly planned: string | null;
  readonly number: string | null;
  readonly type: string;
}

export interface InOrder extends ContainerFacts {
  readonly of: FillOf;
  /** From 1: containers with the same one are filled in any order. */
  readonly place: number;
}

function plannedOf(
  { container, sample }: ContainerFacts,
  planned: readonly PlannedRecord[],
): PlannedRecord | undefined {
  const id = container.fields.planned ?? sample?.fields.planned;
  return planned.find((one) => one.id === id);
}

function ofContainer(one: ContainerFacts, planned: readonly PlannedRecord[]): FillOf {
  const its = plannedOf(one, planned);
  return {
    sample: one.sample?.id ?? null,
    planned: its?.id ?? one.container.fields.planned ?? null,
    number: one.sample?.fields.number ?? its?.fields.number ?? null,
    type: one.sample?.fields.type ?? its?.fields.type ?? 'normal',
  };
}

function placesOf({ plan, containers }: SampleFacts): (one: ContainerFacts) => number {
  const groups = containers.flatMap(({ served }) => served.map(({ group }) => group));
  const placed = inFillOrder(groups, plan?.fillOrder ?? DEFAULT_FILL_ORDER, plan?.pfas ?? 'first');
  const places = new Map(placed.map(({ group, place }) => [group.id, place]));
  const last = Math.max(0, ...places.values()) + 1;
  // a bottle for several groups comes with the first of them, as it was planned
  return ({ served }) => Math.min(last, ...served.flatMap(({ group }) => places.get(group.id) ?? []));
}

/** The parent before what is taken beside it, bottle after bottle of one group: both get the same water. */
function compare(a: InOrder, b: InOrder): number {
  const key = ({ place, container, of }: InOrder) =>
    [
      String(place).padStart(3, '0'),
      container.fields.group,
      of.type === 'normal' ? '0' : '1',
      of.number ?? '',
      container.fields.label,
      container.id,
    ].join('\n');
  const [one, other] = [key(a), key(b)];
  return one < other ? -1 : one > other ? 1 : 0;
}

/** The containers of a visit in the order in which they are filled. */
export function containersInOrder(records: FillRecords): readonly InOrder[] {
  const facts = sampleFacts(records);
  const placeOf = placesOf(facts);
  return facts.containers
    .map((one): InOrder => ({ ...one, of: ofContainer(one, records.planned), place: placeOf(one) }))
    .toSorted(compare);
}

/** Waits for water. */
export function isWaiting({ container, isFull }: ContainerFacts): boolean {
  return !isFull && container.fields.standing === 'expected';
}
