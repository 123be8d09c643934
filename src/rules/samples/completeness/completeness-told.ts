import { z } from 'zod';
import { type Publication, recalled } from '../../../catalog/analytes/publications.ts';
import { PLANNED_TYPES } from '../../../protocol/kinds/planned-sample.ts';
import { VISIT_OUTCOMES } from '../../../protocol/kinds/visit.ts';
import { instantMs } from '../../../science/instant-ms.ts';
import { recordId } from '../../equipment-told/told-fields.ts';
import { crewAndTime } from '../../sampling-plan/left-without.ts';
import type { EventSamples } from '../event-samples.ts';
import { receivedContainers } from '../received.ts';
import type { VisitRecord } from '../sample-records.ts';
import { indexSamples, type SamplesIndex } from '../samples-index.ts';
import { type ExpectedSample, expectedSamples } from './expected-samples.ts';
import { type NotSampledWell, notSampledShape, notSampledWells } from './not-sampled-wells.ts';
import { questionedByBlanks, questionedShape } from './questioned-by-blanks.ts';
import { type ContainerState, LACKING, type LineWorld, type SuiteLine, suiteLines } from './suite-line.ts';

/** What a percentage here is of. */
const DEFINITION: Publication & { readonly wording: string } = {
  ...recalled('US EPA, QA/G-5, Guidance for Quality Assurance Project Plans'),
  wording:
    'Completeness is what was obtained against what was planned, in percent: of containers those that were collected, and those that the laboratory received unspoilt; of the suites of all samples those with every ordered analyte reported (of a suite that lists none, any). What was dropped stays planned, with its reason and who agreed; "of what was not dropped" leaves it out.',
};

export const completenessInput = z.strictObject({
  show: z
    .enum(['all', 'lacking'])
    .default('all')
    .describe('all: every well and blank; lacking: only samples that lack something. Counts are of all'),
});
export type CompletenessGiven = z.output<typeof completenessInput>;

const text = z.string().nullable();
const count = z.int().min(0);
const percent = z.string().nullable().describe('To the tenth, rounded down; null where nothing was planned');

const lackingTold = z.strictObject({
  container: recordId('container').nullable(),
  label: text,
  group: text,
  what: z.enum(LACKING),
  count,
  why: text.describe('As recorded; null where nobody said'),
  agreedBy: text,
});

const lineTold = z.strictObject({
  suite: text.describe('Null for containers that no suite asks for'),
  expected: count.describe('Containers'),
  collected: count,
  received: count.describe('Unspoilt'),
  dropped: count,
  resultsExpected: count.nullable().describe('Null where the suite lists no analytes'),
  resultsReported: count,
  isComplete: z.boolean().nullable().describe('Null where no container is expected: it cannot be told'),
  unknownBecause: text.describe('Why isComplete is null'),
  lacking: z.array(lackingTold),
});

const sampleTold = z.strictObject({
  number: text.describe('Null for what is neither planned by number nor taken'),
  type: z.enum(PLANNED_TYPES),
  sample: recordId('sample').nullable(),
  blank: recordId('blank').nullable(),
  plannedSample: recordId('planned-sample').nullable(),
  suites: z.array(lineTold),
});

export const completenessOutput = z.strictObject({
  event: recordId('event'),
  definition: z.strictObject({ wording: z.string(), source: z.string(), verified: z.boolean() }),
  totals: z.strictObject({
    samples: count.describe('With blanks'),
    expected: count.describe('Containers; one that serves several suites counts once'),
    dropped: count,
    collected: count,
    received: count,
    suites: count.describe('Of all samples together'),
    suitesResulted: count,
    percentCollected: percent,
    percentReceived: percent,
    percentResulted: percent,
    percentCollectedOfNotDropped: percent,
    unknownBecause: text.describe('Why no percentage can be told; null where containers are expected'),
  }),
  wells: z.array(
    z.strictObject({
      well: recordId('well'),
      name: text,
      outcome: z.enum(VISIT_OUTCOMES).nullable().describe('Of the last visit'),
      outcomeReason: text,
      notSampled: notSampledShape.nullable().describe('Of a well that was left without a sample'),
      samples: z.array(sampleTold),
    }),
  ),
  blanks: z.array(sampleTold).describe('And QC samples whose well was not chosen yet'),
  questionedByBlanks: z
    .array(questionedShape)
    .describe('What was found in field and trip blanks, with the samples that each speaks for; whatever is shown'),
});
export type CompletenessTold = z.output<typeof completenessOutput>;

/** Tenths of a percent, rounded down: 99.96 % is not complete. */
export function percentOf(part: number, whole: number): string | null {
  if (whole <= 0) return null;
  const tenths = Math.floor((part * 1_000) / whole);
  return `${Math.floor(tenths / 10)}.${tenths % 10}`;
}

function isResulted({ resultsExpected, resultsReported }: SuiteLine): boolean {
  return resultsReported > 0 && resultsReported >= (resultsExpected ?? 1);
}

const COLLECTED: readonly ContainerState[] = ['collected', 'came-spoilt', 'received'];

interface Counts {
  readonly expected: number;
  readonly collected: number;
  readonly received: number;
  readonly dropped: number;
}

/** Containers by their states, with those that are asked for and not recorded. */
function countsOf(states: Iterable<ContainerState>, unrecorded: number, unrecordedDropped: number): Counts {
  const all = [...states];
  return {
    expected: all.length + unrecorded,
    collected: all.filter((state) => COLLECTED.includes(state)).length,
    received: all.filter((state) => state === 'received').length,
    dropped: all.filter((state) => state === 'dropped').length + unrecordedDropped,
  };
}

function toldLine(line: SuiteLine): z.output<typeof lineTold> {
  const { suite, states, unrecorded, isDropped, resultsExpected, resultsReported, lacking, nothingBecause } = line;
  return {
    suite,
    ...countsOf(states.values(), unrecorded, isDropped ? unrecorded : 0),
    resultsExpected,
    resultsReported,
    isComplete: lacking.length === 0 && nothingBecause !== null ? null : lacking.length === 0,
    unknownBecause: lacking.length === 0 ? nothingBecause : null,
    lacking: lacking.map((one) => ({ ...one })),
  };
}

function typeOf({ planned, sample, blank }: ExpectedSample): (typeof PLANNED_TYPES)[number] {
  if (blank) return `${blank.fields.type}-blank`;
  return planned?.fields.type ?? sample?.fields.type ?? 'normal';
}

interface Row {
  readonly of: ExpectedSample;
  readonly lines: readonly SuiteLine[];
}

function toldSample({ of, lines }: Row): z.output<typeof sampleTold> {
  return {
    number: (of.sample ?? of.blank ?? of.planned)?.fields.number ?? null,
    type: typeOf(of),
    sample: of.sample?.id ?? null,
    blank: of.blank?.id ?? null,
    plannedSample: of.planned?.id ?? null,
    suites: lines.map(toldLine),
  };
}

function lastVisits({ of }: SamplesIndex): ReadonlyMap<string, VisitRecord> {
  const inOrder = of.visits.toSorted((a, b) => instantMs(a.fields.arrived) - instantMs(b.fields.arrived));
  return new Map(inOrder.map((visit) => [visit.fields.well, visit]));
}

/** That nothing lacks is no completeness where nothing was asked for. */
function nothingExpected(rows: readonly Row[]): string {
  const why = [...new Set(rows.flatMap(({ lines }) => lines.flatMap(({ nothingBecause }) => nothingBecause ?? [])))];
  if (why.length > 0) return `No container is expected: ${why.join('; ')}.`;
  return 'Nothing was planned and no sample was taken: name suites in the assignments or in the sampling plan of the event, and write the plan (POST /v1/events/ID/sampling-plan).';
}

function totalsOf(rows: readonly Row[]): CompletenessTold['totals'] {
  const lines = rows.flatMap((row) => row.lines);
  const sum = (all: readonly SuiteLine[]) => all.reduce((many, line) => many + line.unrecorded, 0);
  // by its id, as a bottle that serves several suites stands in several lines
  const states = new Map(lines.flatMap((line) => [...line.states]));
  const counts = countsOf(states.values(), sum(lines), sum(lines.filter(({ isDropped }) => isDropped)));
  const suites = lines.filter(({ suite }) => suite !== null);
  const suitesResulted = suites.filter(isResulted).length;
  return {
    samples: rows.length,
    ...counts,
    suites: suites.length,
    suitesResulted,
    percentCollected: percentOf(counts.collected, counts.expected),
    percentReceived: percentOf(counts.received, counts.expected),
    percentResulted: percentOf(suitesResulted, suites.length),
    percentCollectedOfNotDropped: percentOf(counts.collected, counts.expected - counts.dropped),
    unknownBecause: counts.expected === 0 ? nothingExpected(rows) : null,
  };
}

/** Why nothing came of a well: how its last visit ended, in words, and whose it was. */
function whyOf(of: EventSamples, visit: VisitRecord | undefined): string | null {
  const { outcome, outcomeReason } = visit?.fields ?? {};
  if (!visit || outcome === undefined || outcome === 'sampled') return null;
  return `${[`Its visit ended ${outcome}`, outcomeReason].filter(Boolean).join(': ')} (${crewAndTime(of, visit)})`;
}

interface WellsWorld {
  readonly index: SamplesIndex;
  readonly visits: ReadonlyMap<string, VisitRecord>;
  readonly notSampled: ReadonlyMap<string, NotSampledWell>;
}

function wellRow({ index, visits, notSampled }: WellsWorld, well: string, rows: readonly Row[]) {
  const { outcome, outcomeReason } = visits.get(well)?.fields ?? {};
  return {
    well,
    name: index.wells.get(well)?.fields.name ?? null,
    outcome: outcome ?? null,
    outcomeReason: outcomeReason ?? null,
    notSampled: notSampled.get(well) ?? null,
    samples: rows.map(toldSample),
  };
}

function rowsByWell(rows: readonly Row[]): ReadonlyMap<string | null, readonly Row[]> {
  const found = new Map<string | null, Row[]>();
  for (const row of rows) {
    const its = found.get(row.of.well);
    if (its) its.push(row);
    else found.set(row.of.well, [row]);
  }
  return found;
}

function byName(a: { readonly name: string | null }, b: { readonly name: string | null }): number {
  return (a.name ?? '').localeCompare(b.name ?? '', 'en', { numeric: true });
}

/** What an event was to bring, what it brought, what came to the laboratory and what was reported; and what lacks, and why. */
export function completenessTold(samples: EventSamples, { show }: CompletenessGiven): CompletenessTold {
  const index = indexSamples(samples);
  const visits = lastVisits(index);
  const world: LineWorld = {
    index,
    received: receivedContainers(samples, index),
    whyOfWell: (well) => (well === null ? null : whyOf(samples, visits.get(well))),
  };
  const rows = expectedSamples(index).map((of) => ({ of, lines: suiteLines(world, of) }));
  const shown = show === 'all' ? rows : rows.filter(({ lines }) => lines.some(({ lacking }) => lacking.length > 0));
  const notSampled = notSampledWells(samples);
  // one of which nothing was planned is named all the same
  const wells = new Set([...shown.flatMap(({ of }) => of.well ?? []), ...notSampled.keys()]);
  const named = { index, visits, notSampled };
  const rowsOf = rowsByWell(shown);
  const { wording, source, verified } = DEFINITION;
  return {
    event: samples.event.id,
    definition: { wording, source, verified },
    totals: totalsOf(rows),
    wells: [...wells].map((well) => wellRow(named, well, rowsOf.get(well) ?? [])).toSorted(byName),
    blanks: (rowsOf.get(null) ?? []).map(toldSample),
    questionedByBlanks: [...questionedByBlanks(index)],
  };
}
