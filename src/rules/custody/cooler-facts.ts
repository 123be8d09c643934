import type { AnalyteGroup } from '../../catalog/analytes/analyte-group.ts';
import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import type { SamplingPlan } from '../../protocol/sampling-plan.ts';
import { byIdIn } from '../samples/by-id.ts';
import { laboratoryFor, type Known as NamedBy } from '../samples/laboratory-of.ts';
import type {
  CheckRecord,
  ContainerRecord,
  CoolerRecord,
  FillRecord,
  HandOverRecord,
  ReceiptRecord,
  SealRecord,
} from '../samples/sample-records.ts';
import { type Holder, suitesByName } from '../samples/samples-index.ts';
import type { ToldOf } from '../samples/told-to-laboratory.ts';
import { type Custody, custodyOf } from './custody-of.ts';
import type { CustodyWorld } from './custody-records.ts';
import { type OtherCooler, otherCoolers } from './other-coolers.ts';

/** A container in a cooler, with what is known of what is in it. */
export interface Packed {
  readonly container: ContainerRecord;
  /** The last that is known of it. */
  readonly fill: FillRecord | null;
  readonly of: ToldOf | null;
  /** Those of the catalog that it serves. */
  readonly groups: readonly AnalyteGroup[];
  /** From when its clocks run; null for what is not filled. */
  readonly collected: string | null;
  /** Where it is to go, as said of its sample, by its suite for its group, or by the plan of the event. */
  readonly laboratory: string | null;
  readonly isTripBlank: boolean;
  readonly isTemperatureBlank: boolean;
}

/** One cooler with all that was recorded of it. */
export interface CoolerFacts {
  readonly cooler: CoolerRecord;
  /** Of the site; null where no site is known. */
  readonly timeZone: string | null;
  readonly plan: SamplingPlan | null;
  /** By time, as are the others. */
  readonly seals: readonly SealRecord[];
  readonly checks: readonly CheckRecord[];
  readonly receipts: readonly ReceiptRecord[];
  /** By label. */
  readonly packed: readonly Packed[];
  /** Containers that a receipt of this cooler names and that are not packed in it. */
  readonly elsewhere: readonly ContainerRecord[];
  /** Of the same event. */
  readonly others: readonly OtherCooler[];
  readonly laboratoryName: string | null;
  readonly laboratoryNames: ReadonlyMap<string, string>;
  readonly custody: Custody;
  readonly handOvers: readonly HandOverRecord[];
}

function byText<Item>(items: readonly Item[], key: (item: Item) => string): readonly Item[] {
  return items.toSorted((a, b) => (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0));
}

function byTime<Item extends { readonly id: string }>(items: readonly Item[], at: (item: Item) => string) {
  return items.toSorted((a, b) => Date.parse(at(a)) - Date.parse(at(b)) || (a.id < b.id ? -1 : 1));
}

function holderIn({ fields }: ContainerRecord, { samples, blanks, plannedSamples }: CustodyWorld): Holder {
  const [sample, blank] = [byIdIn(samples, fields.sample), byIdIn(blanks, fields.blank)];
  const planned = fields.planned ?? sample?.fields.planned ?? blank?.fields.planned;
  return { sample, blank, planned: byIdIn(plannedSamples, planned) };
}

function isBlankOf(of: ToldOf | null, type: 'trip' | 'temperature'): boolean {
  return of !== null && (of.fields.type === type || of.fields.type === `${type}-blank`);
}

interface Known extends NamedBy {
  readonly of: CustodyWorld;
}

function packedOf(container: ContainerRecord, fills: readonly FillRecord[], known: Known): Packed {
  const fill = fills.at(-1) ?? null;
  const holder = holderIn(container, known.of);
  const of: ToldOf | null =
    holder.sample ?? holder.blank ?? byIdIn(known.of.plannedSamples, container.fields.planned) ?? null;
  const ids = [container.fields.group, ...(container.fields.alsoGroups ?? [])];
  const own = of && 'collected' in of.fields ? of.fields.collected : null;
  return {
    container,
    fill,
    of,
    groups: ids.flatMap((id) => analyteGroup(id) ?? []),
    collected: fill?.fields.collected ?? own,
    laboratory: laboratoryFor(known, container, holder) ?? null,
    isTripBlank: isBlankOf(of, 'trip'),
    isTemperatureBlank: isBlankOf(of, 'temperature'),
  };
}

/** What is known of these containers, by their labels. */
export function packedFrom(inside: readonly ContainerRecord[], world: CustodyWorld): readonly Packed[] {
  const ids = new Set(inside.map(({ id }) => id));
  const fills = byTime(
    world.fills.filter(({ fields }) => ids.has(fields.container)),
    ({ fields }) => fields.collected,
  );
  const known = { of: world, suites: suitesByName(world.suites) };
  const packed = inside.map((container) =>
    packedOf(
      container,
      fills.filter(({ fields }) => fields.container === container.id),
      known,
    ),
  );
  return byText(packed, ({ container }) => `${container.fields.label}\n${container.id}`);
}

/** What is known of one cooler. */
export function coolerFacts(cooler: CoolerRecord, world: CustodyWorld): CoolerFacts {
  const { id } = cooler;
  const its = <Item extends { readonly fields: { readonly cooler?: string | null | undefined } }>(
    list: readonly Item[],
  ) => list.filter(({ fields }) => fields.cooler === id);
  const receipts = byTime(its(world.receipts), ({ fields }) => fields.received);
  const named = new Set(receipts.flatMap(({ fields }) => (fields.items ?? []).map(({ label }) => label)));
  const seals = byTime(its(world.seals), ({ fields }) => fields.applied);
  const packed = packedFrom(its(world.containers), world);
  const laboratoryNames = new Map(world.laboratories.map((one) => [one.id, one.fields.name]));
  const laboratoryName = laboratoryNames.get(cooler.fields.laboratory ?? '') ?? null;
  const handOvers = byTime(its(world.handOvers), ({ fields }) => fields.at);
  const collected = firstCollected(packed);
  const custody = custodyOf({ cooler, seals, handOvers, receipts, laboratoryName, collected });
  return {
    cooler,
    timeZone: world.site?.fields.timeZone ?? null,
    plan: world.event.fields.plan.sampling ?? null,
    seals,
    checks: byTime(its(world.coolerChecks), ({ fields }) => fields.observed.at),
    receipts,
    packed,
    elsewhere: byText(
      world.containers.filter(({ fields }) => fields.cooler !== id && named.has(fields.label)),
      ({ fields }) => fields.label,
    ),
    laboratoryName,
    laboratoryNames,
    custody,
    handOvers,
    others: otherCoolers(id, world),
  };
}

function firstCollected(packed: readonly Packed[]): string | null {
  const times = packed.filter((one) => !one.isTripBlank).flatMap(({ collected }) => collected ?? []);
  return times.toSorted((a, b) => Date.parse(a) - Date.parse(b))[0] ?? null;
}
