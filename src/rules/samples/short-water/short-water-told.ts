import { z } from 'zod';
import { qcRule } from '../../../catalog/analytes/qc-rules.ts';
import { decimal, id } from '../../../protocol/primitives.ts';
import { placesText } from '../../../science/units/significant-text.ts';
import { byKey } from '../../equipment/by-key.ts';
import { suiteNamed } from '../asked-of-group.ts';
import { containersInOrder, type InOrder, isWaiting } from '../fill-order/containers-in-order.ts';
import type { FillRecords } from '../fill-order/fill-records.ts';
import { leastMl, withoutAir } from '../fill-rules/parts.ts';
import {
  SHORT_WATER_SOURCES,
  type SharedLine,
  sharedText,
  shareWater,
  type WaterLine,
  WHO_AGREES,
} from './share-water.ts';

export const shortWaterInput = z.strictObject({
  availableMl: decimal
    .refine((value) => Number(value) >= 0, { error: 'must not be below zero' })
    .optional()
    .describe('Water that the well still gives. Default: all that is needed, which tells whose turn would come when'),
});
export type ShortWaterGiven = z.output<typeof shortWaterInput>;

export const shortWaterOutput = z.strictObject({
  visit: id,
  neededMl: z.string().describe('By the containers that wait'),
  availableMl: z.string(),
  filledMl: z.string().describe('By this'),
  leftMl: z.string(),
  containers: z
    .array(
      z.strictObject({
        container: id,
        label: z.string(),
        number: z.string().nullable().describe('Of its sample, taken or planned'),
        group: z.string(),
        title: z.string(),
        suite: z.string().nullable(),
        turn: z.int().describe('In whose turn it gets water, from 1'),
        fill: z.boolean().describe('False: it is dropped, once somebody agreed'),
        volumeMl: z.string().describe('To fill into it'),
        takesMl: z.string(),
        leastVolumeMl: z.string().describe('Least usable volume'),
        leastCount: z.int().describe('Least usable number of its kind'),
        because: z.string(),
      }),
    )
    .describe('What is filled in the order to fill, then what is dropped'),
  whoAgrees: z.string().nullable().describe('Before anything is dropped; null where nothing is'),
  reasons: z.array(z.string()),
  cautions: z.array(z.string()),
  sources: z.array(z.string()),
});
export type ShortWaterTold = z.output<typeof shortWaterOutput>;

interface Line extends WaterLine {
  readonly its: readonly InOrder[];
}

/** What is taken beside a sample is of use only beside it: it comes after it. Common practice, no source. */
function isBeside({ of }: InOrder): boolean {
  return of.type !== 'normal' && of.type !== 'resample';
}

/** Bottles of a spike for one of its sample: those of the spike and of its duplicate. */
const SPIKE_TIMES = (qcRule('ms-msd-three-volumes')?.volumeTimes ?? 3) - 1;

/** For the laboratory to spike: a well with little water is none for it, and its bottles are of no use to the sample. */
function isSpike({ of }: InOrder): boolean {
  return of.type === 'matrix-spike';
}

/** The spike and its duplicate are analysed each: one of them alone says nothing. */
function leastCountOf(one: InOrder): number {
  return (one.asked?.leastCount ?? 1) * (isSpike(one) ? SPIKE_TIMES : 1);
}

/** A suite says its own priority; where it says none, its groups have theirs, after those that say one. */
function suitePriority({ container }: InOrder, { suites }: FillRecords): number {
  return suiteNamed(suites, container.fields.suite)?.fields.priority ?? 1_000;
}

function lineOf(its: readonly InOrder[], full: number, records: FillRecords): Line[] {
  const [first] = its;
  if (!first) return [];
  const { container, asked, of, served } = first;
  const volumeMl = Number(container.fields.volumeMl);
  return [
    {
      its,
      key: `${of.number} ${container.fields.suite} ${container.fields.group} ${volumeMl}`,
      title: `${asked?.group.title ?? container.fields.group}${of.number === null ? '' : ` of ${of.number}`}`,
      count: its.length,
      volumeMl,
      leastCount: Math.min(its.length, Math.max(0, leastCountOf(first) - full)),
      leastVolumeMl: Math.min(volumeMl, served.length === 0 ? volumeMl : leastMl(first)),
      priority: [
        Number(isBeside(first)),
        suitePriority(first, records),
        Math.min(1_000, ...served.map(({ priority }) => priority)),
        first.place,
      ],
      isLast: isSpike(first),
    },
  ];
}

/** Full, and of use: one with a bubble in it is to be filled anew. */
function isUsable(one: InOrder): boolean {
  return one.isFull && !(withoutAir(one) !== undefined && one.fill?.fields.bubble === true);
}

/** Containers of one sample, suite, group and size share one line; those that are full already count for its least. */
function linesOf(all: readonly InOrder[], records: FillRecords): readonly Line[] {
  // by the plan where there is one: what is full is of a sample by then, what waits still of the planned one alone
  const setOf = ({ of, container: { fields } }: InOrder) =>
    `${of.planned ?? of.sample} ${fields.suite} ${fields.group}`;
  const sets = byKey(all, setOf);
  const bySize = byKey(all.filter(isWaiting), (one) => `${setOf(one)} ${one.container.fields.volumeMl}`);
  return [...bySize.values()].flatMap((its) => {
    const set = its[0] ? sets.get(setOf(its[0])) : undefined;
    return lineOf(its, (set ?? []).filter(isUsable).length, records);
  });
}

function ml(value: number): string {
  return placesText(value, Number.isInteger(value) ? 0 : 1);
}

function toldOf(one: SharedLine<Line>): ShortWaterTold['containers'] {
  const { line, fillCount, fillVolumeMl, turn, because } = one;
  return line.its.map((its, index) => {
    const { container, asked, of } = its;
    const isFilled = index < fillCount;
    return {
      container: container.id,
      label: container.fields.label,
      number: of.number,
      group: container.fields.group,
      title: asked?.group.title ?? container.fields.group,
      suite: container.fields.suite ?? null,
      turn,
      fill: isFilled,
      volumeMl: isFilled ? ml(fillVolumeMl) : '0',
      takesMl: container.fields.volumeMl,
      leastVolumeMl: ml(line.leastVolumeMl),
      leastCount: line.leastCount,
      because,
    };
  });
}

/**
 * The water that is left goes to volatiles before PFAS, by volatility: common practice, no source. Into the bottles it goes
 * as the plan says, by default PFAS first, so that nothing of other bottles gets onto them: common practice, no source.
 */
const LISTED_AS_FILLED =
  'The list is in the order to fill, which is not that of the turns. A turn is the claim on the water: a bottle that is filled before its turn takes no more than what is written for it, so that those with earlier turns get theirs. Where less comes than was said, fill by the turns.';

/** Whether one that is filled comes before another whose claim on the water is the older. */
function isOtherThanTurns(told: ShortWaterTold['containers']): boolean {
  const turns = told.filter(({ fill }) => fill).map(({ turn }) => turn);
  return turns.some((turn, at) => turn < (turns[at - 1] ?? 0));
}

/** What the containers of a visit that wait get of the water that is left, and which of them nothing. */
export function shortWaterTold(records: FillRecords, { availableMl }: ShortWaterGiven): ShortWaterTold {
  const all = containersInOrder(records);
  const lines = linesOf(all, records);
  const needed = lines.reduce((sum, { count, volumeMl }) => sum + count * volumeMl, 0);
  const shared = shareWater(lines, availableMl === undefined ? Math.ceil(needed) : Number(availableMl));
  const places = new Map(all.map(({ container }, at) => [container.id, at]));
  const told = shared.lines.flatMap(toldOf);
  const sorted = told.toSorted(
    (a, b) => Number(b.fill) - Number(a.fill) || (places.get(a.container) ?? 0) - (places.get(b.container) ?? 0),
  );
  const isLess = shared.usedMl < shared.neededMl;
  return {
    visit: records.visit.id,
    neededMl: ml(shared.neededMl),
    availableMl: ml(shared.availableMl),
    filledMl: ml(shared.usedMl),
    leftMl: ml(shared.availableMl - shared.usedMl),
    containers: sorted,
    whoAgrees: isLess ? WHO_AGREES : null,
    reasons: [
      shared.lines.length === 0 ? 'No container of this visit waits for water.' : sharedText(shared),
      ...(isOtherThanTurns(sorted) ? [LISTED_AS_FILLED] : []),
      'A suite that says its priority comes by it, else its groups come in the priority of the catalog; duplicates and splits after what they go with, matrix spikes when all samples are whole.',
    ],
    cautions: ['Least usable volumes are those of common practice: the laboratory says what its methods need.'],
    sources: [...SHORT_WATER_SOURCES],
  };
}
