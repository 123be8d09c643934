import { containerClocks } from '../samples/deadlines/container-clocks.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import { laboratoryOf } from '../samples/laboratory-of.ts';
import type { ContainerRecord, CoolerRecord } from '../samples/sample-records.ts';
import { holderOf, suiteAsking } from '../samples/samples-index.ts';
import { type ToldBlank, type ToldSample, toldMatrix, toldNumber, toldPlace } from '../samples/told-to-laboratory.ts';
import { analyses, containerType, preservative, turnaround } from './container-words.ts';
import { listRow, type SampleListRow } from './list-row.ts';
import { type ListWorld, listWorld, saidOf } from './list-world.ts';
import { type Numbered, rowsOf } from './one-order.ts';
import { spikeTold } from './spikes-told.ts';
import { standingAtLaboratory } from './standing.ts';
import { toldTimes, withToldTimes } from './told-times.ts';

/** Told of a bottle whose sample has not arrived. */
const NOT_HERE = 'not known';

/** A bottle that a laboratory is told of, with what it is told of it. */
export interface ToldContainer extends Numbered {
  readonly container: ContainerRecord;
  readonly cooler: CoolerRecord;
  /** Undefined where what it is of has not arrived: the bottle is in the cooler all the same. */
  readonly of: ToldSample | ToldBlank | undefined;
}

/** What a laboratory is told of an event. */
export interface ToldToLaboratory {
  readonly laboratory: string;
  readonly world: ListWorld;
  readonly times: ReadonlyMap<string, string>;
  readonly containers: readonly ToldContainer[];
}

/** Only what a laboratory says itself, or what was typed from its paper, is said back to it. */
function ofLaboratory(of: EventSamples, laboratory: string): EventSamples {
  const coolers = new Map(of.coolers.map(({ id, fields }) => [id, fields.laboratory]));
  const isIts = (named: string | undefined, cooler: string | undefined) =>
    (named ?? coolers.get(cooler ?? '')) === laboratory;
  return {
    ...of,
    receipts: of.receipts.filter(({ fields }) => isIts(fields.laboratory, fields.cooler)),
  };
}

/** The bottles of a cooler are told all at once, when it was closed or went out of somebody's hands. */
function isOnItsWay({ relinquished, receipts }: ListWorld, { id, fields }: CoolerRecord): boolean {
  if (fields.packed !== undefined || relinquished.has(id)) return true;
  return [...receipts.values()].some(({ cooler }) => cooler === id);
}

function toldContainers(world: ListWorld, laboratory: string): readonly ToldContainer[] {
  const { index, of } = world;
  const under = new Map(of.coolers.map((cooler) => [cooler.id, isOnItsWay(world, cooler) ? cooler : undefined]));
  return of.containers.flatMap((container): ToldContainer[] => {
    const cooler = under.get(container.fields.cooler ?? '');
    if (cooler === undefined || container.fields.standing !== 'filled') return [];
    if (laboratoryOf(index, container)?.id !== laboratory) return [];
    const { sample, blank } = holderOf(index, container);
    const bottleOf = sample ?? blank;
    // not by its plan either: one that is planned blind would be told by the number that the laboratory is not to know
    const sampleNumber = bottleOf === undefined ? NOT_HERE : toldNumber(bottleOf, of);
    return [{ container, cooler, of: bottleOf, sampleNumber, labelId: container.fields.label }];
  });
}

/** What a laboratory is told of the bottles of an event, with the times, numbers and places that it is told. */
export function toldToLaboratory(of: EventSamples, laboratory: string): ToldToLaboratory {
  const its = ofLaboratory(of, laboratory);
  const times = toldTimes(its);
  const world = listWorld(withToldTimes(its, times));
  return { laboratory, world, times, containers: toldContainers(world, laboratory) };
}

/** A row as a laboratory is told it: no remark of the field, no time but the told one, no clock but that of the told time. */
export function toldRow({ world, times }: ToldToLaboratory, told: ToldContainer): SampleListRow {
  const { index, of, timeZone } = world;
  const { container, cooler, of: bottleOf, sampleNumber, labelId } = told;
  const suite = suiteAsking(index, container, holderOf(index, container));
  const said = saidOf(world, container);
  const spike = spikeTold(index, container);
  const clocks = containerClocks(index, container, world.received.get(container.id));
  return listRow({
    sampleNumber,
    labelId,
    labelTime: bottleOf && times.get(bottleOf.id),
    timeZone,
    matrix: bottleOf ? toldMatrix(bottleOf) : NOT_HERE,
    samplingPoint: bottleOf && toldPlace(bottleOf, of),
    containerType: containerType(container),
    volumeMl: container.fields.volumeMl,
    preservative: preservative(container),
    filtered: index.fills.get(container.id)?.at(-1)?.fields.filtered,
    analyses: analyses(container, suite),
    isForMatrixSpike: spike === null ? undefined : true,
    turnaround: turnaround(suite),
    laboratory: clocks.laboratory?.fields.name,
    cooler: cooler.fields.number,
    standing: standingAtLaboratory(said) ?? 'sent',
    ph: said.item?.ph ?? undefined,
    temperatureC: said.temperatureC ?? undefined,
    dueAt: clocks.dueAt ?? undefined,
    remark: undefined,
    spikeOf: spike?.parent ? toldNumber(spike.parent, of) : undefined,
    spikeAnalyses: spike?.analyses,
  });
}

/** The list of a laboratory, in the order of the told numbers. */
export function laboratoryList(told: ToldToLaboratory): Generator<SampleListRow, void> {
  return rowsOf(told.containers, (one) => toldRow(told, one));
}
