import { z } from 'zod';
import type { ContainerLabel } from '../../documents/labels/label-facts.ts';
import { id } from '../../protocol/primitives.ts';
import { Problem } from '../../protocol/problem.ts';
import { analyses, containerType, preservative } from '../../rules/laboratory/container-words.ts';
import { spikeTold } from '../../rules/laboratory/spikes-told.ts';
import type { EventSamples } from '../../rules/samples/event-samples.ts';
import type { ContainerRecord } from '../../rules/samples/sample-records.ts';
import {
  type Holder,
  holderOf,
  indexSamples,
  type SamplesIndex,
  suiteAsking,
} from '../../rules/samples/samples-index.ts';
import { isBlind, planOf, toldMatrix, toldNumber, toldTime } from '../../rules/samples/told-to-laboratory.ts';
import { inRead } from '../../store/read/transaction.ts';
import { loadEventSamples } from '../event-samples.ts';
import { feedsInSight } from '../feeds-in-sight.ts';
import type { ReadContext } from '../read-context.ts';
import type { Reader } from '../reader.ts';
import { loadPeople, type People } from './load-cooler.ts';

export const labelFilter = {
  sample: id.optional().describe('Those of one sample, blank or planned sample'),
  well: id.optional().describe('Those of what is taken at one well'),
  crew: id.optional().describe('Those of one crew'),
} as const;
const filter = z.strictObject(labelFilter);
export type LabelFilter = z.output<typeof filter>;

/** As many labels as one document holds: a round of 200 wells has some thousands, which are printed crew by crew. */
export const MOST_LABELS = 1_000;

export interface EventLabels {
  readonly labels: readonly ContainerLabel[];
  readonly firm: string;
  readonly event: string;
  readonly timeZone: string;
}

interface Around {
  readonly index: SamplesIndex;
  readonly holder: Holder;
}

function wellAndCrew({ index, holder: { sample, planned } }: Around) {
  const visit = sample && index.visits.get(sample.fields.visit);
  const well = visit?.fields.well ?? planned?.fields.well;
  const assigned = index.of.assignments.filter(({ fields }) => well !== undefined && fields.well === well);
  const crews = [visit?.fields.crew, planned?.fields.crew].filter((one) => one !== undefined);
  return { well, crews: crews.length > 0 ? crews : assigned.map(({ fields }) => fields.crew) };
}

function isAsked(around: Around, { sample, well, crew }: LabelFilter): boolean {
  const { holder } = around;
  if (sample !== undefined && ![holder.sample, holder.blank, holder.planned].some((one) => one?.id === sample)) {
    return false;
  }
  const its = wellAndCrew(around);
  return (well === undefined || its.well === well) && (crew === undefined || its.crews.includes(crew));
}

const withMadeTimes = new WeakMap<SamplesIndex, boolean>();

/** Whether a time is made up for some sample of the event, which is not known for good before its cooler is closed. */
function hasMadeTimes(index: SamplesIndex): boolean {
  const before = withMadeTimes.get(index);
  if (before !== undefined) return before;
  const { samples } = index.of;
  const has = samples.some(
    (one) =>
      isBlind(one, index.of) &&
      one.fields.laboratoryTime == null &&
      planOf(one, index.of)?.fields.laboratoryTime == null,
  );
  withMadeTimes.set(index, has);
  return has;
}

/**
 * A label is printed before its bottle is filled, with room for a pen: also of what has a time by plan already, since a printed
 * time among written ones would show which sample is another than it seems. For the same reason none is printed before its
 * cooler is closed where that of another would have to be left out.
 */
function timeOf(container: ContainerRecord, { index, holder }: Around): string | null {
  const isFilled = container.fields.standing === 'filled' || (index.fills.get(container.id)?.length ?? 0) > 0;
  const isClosed = index.coolers.get(container.fields.cooler ?? '')?.fields.packed != null;
  const of = holder.sample ?? holder.blank;
  if (!isFilled || !of || (hasMadeTimes(index) && !isClosed)) return null;
  return toldTime(of, index.of);
}

function labelOf(container: ContainerRecord, around: Around, { initials }: People): ContainerLabel | null {
  const { index, holder } = around;
  const of = holder.sample ?? holder.blank ?? holder.planned;
  if (!of) return null;
  const time = timeOf(container, around);
  const fill = index.fills.get(container.id)?.at(-1)?.fields;
  const sampler = time === null ? undefined : initials.get(fill?.observed.readBy ?? '');
  const preserved = preservative(container);
  const spike = spikeTold(index, container);
  return {
    labelId: container.fields.label,
    sampleNumber: toldNumber(of, index.of),
    site: index.of.site?.fields.name ?? '',
    project: index.of.event.fields.name,
    ...(time === null ? {} : { labelTime: time }),
    ...(sampler ? { samplerInitials: sampler } : {}),
    matrix: toldMatrix(of),
    container: `${containerType(container)}, ${container.fields.volumeMl} mL`,
    ...(preserved === undefined ? {} : { preservative: preserved }),
    ...(fill?.filtered === undefined || fill.filtered === null ? {} : { filtered: fill.filtered }),
    analyses: analyses(container, suiteAsking(index, container, holder)),
    ...(spike?.parent ? { spikeOf: toldNumber(spike.parent, index.of) } : {}),
    ...(spike === null ? {} : { spikeAnalyses: spike.analyses }),
  };
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** The labels of what is to be filled and what is, in the order of the told numbers. */
export function eventLabels(of: EventSamples, asked: LabelFilter, people: People): EventLabels {
  const index = indexSamples(of);
  const labels = of.containers
    .filter(({ fields }) => fields.standing === 'expected' || fields.standing === 'filled')
    .flatMap((container) => {
      const around = { index, holder: holderOf(index, container) };
      return isAsked(around, asked) ? (labelOf(container, around, people) ?? []) : [];
    });
  return {
    labels: labels.toSorted((a, b) => compareText(a.sampleNumber, b.sampleNumber) || compareText(a.labelId, b.labelId)),
    firm: people.firm,
    event: of.event.fields.name,
    timeZone: of.site?.fields.timeZone ?? 'UTC',
  };
}

/**
 * The labels of an event.
 *
 * @throws Problem `record_missing` for an event that the reader does not see, or one without such containers; `too_large`
 */
export function readEventLabels(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  event: string,
  asked: LabelFilter,
): Promise<EventLabels> {
  return inRead(pool, reader.firm, async (tx) => {
    const of = await loadEventSamples(tx, await feedsInSight(tx, reader), event);
    const told = eventLabels(of, asked, await loadPeople(tx));
    if (told.labels.length === 0) {
      const what = 'no container that is expected or filled is in this event for what was asked';
      throw new Problem('record_missing', `${what}: write the plan of its samples first, or ask for another one`);
    }
    if (told.labels.length > MOST_LABELS) {
      const many = `${told.labels.length} labels are more than the ${MOST_LABELS} of one document`;
      throw new Problem('too_large', `${many}: ask for those of a crew, a well or a sample`);
    }
    return told;
  });
}
