import { containerClocks } from '../samples/deadlines/container-clocks.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import type { ContainerRecord } from '../samples/sample-records.ts';
import { holderOf, suiteAsking, wellOf } from '../samples/samples-index.ts';
import { toldBlank, toldMatrix } from '../samples/told-to-laboratory.ts';
import { analyses, containerType, preservative, turnaround } from './container-words.ts';
import { listRow, type SampleListRow } from './list-row.ts';
import { type ListWorld, listWorld, saidOf } from './list-world.ts';
import { type Numbered, rowsOf } from './one-order.ts';
import { spikeTold } from './spikes-told.ts';
import { standingOf } from './standing.ts';

interface Item extends Numbered {
  readonly container: ContainerRecord;
}

/** A container of nothing that is here: its sample was voided, or has not arrived. */
const NOBODYS = 'not known';

function remarkOf({ fields }: ContainerRecord, told: string | null | undefined): string | undefined {
  const parts = [fields.droppedBecause, fields.remark, told ?? undefined].flatMap((part) => part ?? []);
  return parts.length === 0 ? undefined : parts.join('; ');
}

function rowOf(world: ListWorld, { container, sampleNumber, labelId }: Item): SampleListRow {
  const { index, timeZone } = world;
  const holder = holderOf(index, container);
  const suite = suiteAsking(index, container, holder);
  const said = saidOf(world, container);
  const spike = spikeTold(index, container);
  const clocks = containerClocks(index, container, world.received.get(container.id));
  const bottlesOf = holder.sample ?? holder.blank ?? holder.planned;
  const { cooler, volumeMl } = container.fields;
  return listRow({
    sampleNumber,
    labelId,
    labelTime: clocks.collectedAt ?? (holder.sample ?? holder.blank)?.fields.collected,
    timeZone,
    matrix: bottlesOf ? toldMatrix(bottlesOf) : NOBODYS,
    samplingPoint: (bottlesOf && toldBlank(bottlesOf)) ?? wellOf(index, holder)?.fields.name,
    containerType: containerType(container),
    volumeMl,
    preservative: preservative(container),
    filtered: index.fills.get(container.id)?.at(-1)?.fields.filtered,
    analyses: analyses(container, suite),
    isForMatrixSpike: spike === null ? undefined : true,
    turnaround: turnaround(suite),
    laboratory: clocks.laboratory?.fields.name,
    cooler: cooler === undefined ? undefined : index.coolers.get(cooler)?.fields.number,
    standing: standingOf(world, container, said),
    ph: said.item?.ph ?? index.fills.get(container.id)?.at(-1)?.fields.ph,
    temperatureC: said.temperatureC,
    dueAt: clocks.dueAt ?? undefined,
    remark: remarkOf(container, said.item?.remark),
    spikeOf: spike?.parent?.fields.number,
    spikeAnalyses: spike?.analyses,
  });
}

/** The list of the office and the crews: every container of the event, as it is. */
export function officeList(of: EventSamples): Generator<SampleListRow, void> {
  const world = listWorld(of);
  const items = of.containers.map((container) => {
    const { sample, blank, planned } = holderOf(world.index, container);
    const number = (sample ?? blank ?? planned)?.fields.number ?? NOBODYS;
    return { container, sampleNumber: number, labelId: container.fields.label };
  });
  return rowsOf(items, (item) => rowOf(world, item));
}
