import type { AnalyteGroup } from '../../../catalog/analytes/analyte-group.ts';
import { instantMs } from '../../../science/instant-ms.ts';
import type { SampleTimes } from '../../../science/samples/holding-clocks.ts';
import { resultsOfContainer } from '../results-of.ts';
import type {
  BlankRecord,
  ContainerRecord,
  FillRecord,
  ResultRecord,
  SampleRecord,
  SuiteRecord,
} from '../sample-records.ts';
import type { Holder, SamplesIndex } from '../samples-index.ts';
import { type LimitStart, limitStart } from './limit-start.ts';

export const COLLECTED_FROM = ['fill', 'sample', 'blank'] as const;
export const PRESERVATIONS = ['in-it', 'not-in-it', 'not-said', 'none-needed'] as const;

export interface ContainerTimes {
  /** Without those of the laboratory. */
  readonly times: SampleTimes;
  /** The steps of the laboratory, as its results say: of several analytes each with its own, and each once. */
  readonly atLaboratory: readonly Pick<SampleTimes, 'extractedAt' | 'analysedAt'>[];
  /** As recorded. */
  readonly collectedAt: string | null;
  readonly start: LimitStart | null;
  /** Which record says when it was collected. */
  readonly from: (typeof COLLECTED_FROM)[number] | null;
  readonly preservation: (typeof PRESERVATIONS)[number];
}

function preservationOf(
  group: AnalyteGroup,
  filled: boolean | null | undefined,
  { fields: { preservatives } }: ContainerRecord,
): ContainerTimes['preservation'] {
  if (group.preservation.anyOf.length === 0) return 'none-needed';
  const isIn = filled ?? (preservatives == null ? undefined : preservatives.length > 0);
  if (isIn === undefined) return 'not-said';
  return isIn ? 'in-it' : 'not-in-it';
}

function laboratorySteps(results: readonly ResultRecord[]): ContainerTimes['atLaboratory'] {
  const found = new Map<string, ContainerTimes['atLaboratory'][number]>();
  for (const { extracted, analyzed } of results.map(({ fields }) => fields)) {
    if (extracted === undefined && analyzed === undefined) continue;
    found.set(`${extracted} ${analyzed}`, {
      ...(extracted === undefined ? {} : { extractedAt: extracted }),
      ...(analyzed === undefined ? {} : { analysedAt: analyzed }),
    });
  }
  return [...found.values()];
}

interface Collected extends Pick<ContainerTimes, 'from' | 'collectedAt' | 'start'> {
  /** From when limits count. */
  readonly at: string | undefined;
}

function collectedBy(from: ContainerTimes['from'], record: FillRecord | SampleRecord | BlankRecord): Collected {
  const collectedAt = record.fields.collected;
  const start = limitStart(record, collectedAt);
  return { from, collectedAt, start, at: start.countsFrom };
}

function collected(container: ContainerRecord, fills: readonly FillRecord[], { sample, blank }: Holder): Collected {
  // by where limits count from: a phone whose clock is ahead may have recorded the first of two
  const [first] = fills
    .map((fill) => collectedBy('fill', fill))
    .toSorted((a, b) => instantMs(a.at ?? '') - instantMs(b.at ?? ''));
  if (first) return first;
  const none: Collected = { from: null, collectedAt: null, start: null, at: undefined };
  if (container.fields.standing !== 'filled') return none;
  if (sample) return collectedBy('sample', sample);
  return blank ? collectedBy('blank', blank) : none;
}

/**
 * What is known of the steps of a container. It was collected at its first fill, so that no clock runs late where two were
 * recorded; of a filled one without any, the time on the label of its sample counts. What is preserved or filtered in the
 * field is so as it is filled.
 */
export function containerTimes(
  index: SamplesIndex,
  container: ContainerRecord,
  about: { readonly group: AnalyteGroup; readonly holder: Holder; readonly suite: SuiteRecord | undefined },
): ContainerTimes {
  const fills = index.fills.get(container.id) ?? [];
  const last = fills.at(-1)?.fields;
  const { at, ...its } = collected(container, fills, about.holder);
  const preservation = preservationOf(about.group, last?.preserved, container);
  return {
    ...its,
    preservation,
    atLaboratory: laboratorySteps(resultsOfContainer(index, container, about.suite)),
    times: {
      ...(at === undefined ? {} : { collectedAt: at }),
      ...(at !== undefined && (preservation === 'in-it' || preservation === 'not-said') ? { preservedAt: at } : {}),
      ...(at !== undefined && last?.filtered === true ? { filteredAt: at } : {}),
    },
  };
}
