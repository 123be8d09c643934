import { instantMs } from '../../../science/instant-ms.ts';
import { tightestFirst } from '../../../science/samples/tightest-first.ts';
import type { EventSamples } from '../event-samples.ts';
import { receivedContainers } from '../received.ts';
import { indexSamples, type SamplesIndex } from '../samples-index.ts';
import { type ContainerClocks, containerClocks, hasPast } from './container-clocks.ts';

/** The clocks of every container of an event, the tightest first; what has none comes last, in the order of the ids. */
export function eventClocks(
  samples: EventSamples,
  index: SamplesIndex = indexSamples(samples),
): readonly ContainerClocks[] {
  const received = receivedContainers(samples, index);
  return tightestFirst(samples.containers.map((one) => containerClocks(index, one, received.get(one.id))));
}

export interface ClocksAsked {
  readonly at: string;
  readonly cooler?: string | undefined;
  readonly laboratory?: string | undefined;
  readonly within?: number | undefined;
  readonly which: 'running' | 'awaited' | 'all';
}

/** A receipt ends no clock: what was received is to be analysed in time all the same. */
function isAsked({ received, container, clocks }: ContainerClocks, which: ClocksAsked['which']): boolean {
  const { standing } = container.fields;
  if (which === 'all') return true;
  if (standing === 'dropped' || standing === 'discarded') return false;
  return received === undefined || (which === 'running' && clocks.some(({ state }) => state === 'running'));
}

/** Those that are asked about. */
export function clocksAsked(clocks: readonly ContainerClocks[], asked: ClocksAsked): readonly ContainerClocks[] {
  const until = asked.within === undefined ? null : instantMs(asked.at) + asked.within * 3_600_000;
  return clocks.filter(
    (one) =>
      isAsked(one, asked.which) &&
      (asked.cooler === undefined || one.container.fields.cooler === asked.cooler) &&
      (asked.laboratory === undefined || one.laboratory?.id === asked.laboratory) &&
      (until === null || (one.dueAt !== null && instantMs(one.dueAt) <= until) || hasPast(one, asked.at)),
  );
}
