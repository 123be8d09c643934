import { z } from 'zod';
import { byIdIn } from '../samples/by-id.ts';
import type { PlannedRecord } from '../samples/sample-records.ts';
import { isBlind, isForMatrixSpike, toldNumber } from '../samples/told-to-laboratory.ts';
import { needsOwnSpikeBottle } from '../sampling-plan/spike-bottles.ts';
import { knownSuites, suiteBook } from '../sampling-plan/suite-book.ts';
import { bottlesFor } from '../sampling-plan/wanted-bottles.ts';
import { groupTitle } from './container-words.ts';
import type { ToldToLaboratory } from './laboratory-list.ts';

export const orderedSpike = z
  .strictObject({
    sampleNumber: z.string().describe('Of the extra bottles'),
    spikeOf: z.string().nullable().describe('The sample that is spiked; null where the plan does not say it yet'),
    fromExtraBottles: z.array(z.string()),
    fromBottlesOfThatSample: z.array(z.string()),
  })
  .meta({ id: 'OrderedSpike', description: 'A matrix spike with its duplicate, by numbers as told to the laboratory' });
export type OrderedSpike = z.output<typeof orderedSpike>;

function ordered({ laboratory, world: { of } }: ToldToLaboratory, spike: PlannedRecord): OrderedSpike | null {
  const book = suiteBook(of);
  const plan = of.event.fields.plan.sampling ?? null;
  const suites = knownSuites(book, spike.fields.suites);
  const parent = byIdIn(of.plannedSamples, spike.fields.of);
  // what goes out of bottles of its sample goes where that does
  const goesTo = (isExtra: boolean) => (isExtra ? spike : parent)?.fields.laboratory;
  const titles = (isExtra: boolean) => {
    const its = bottlesFor({ suites, plan, well: null, book }).filter(
      (one) => needsOwnSpikeBottle(one.fillClass) === isExtra && (goesTo(isExtra) ?? one.laboratory) === laboratory,
    );
    return [...new Set(its.flatMap(({ group, alsoGroups }) => [group, ...alsoGroups].map(groupTitle)))].toSorted();
  };
  const [fromExtraBottles, fromBottlesOfThatSample] = [titles(true), titles(false)];
  if (fromExtraBottles.length + fromBottlesOfThatSample.length === 0) return null;
  const isTold = parent !== undefined && !isBlind(parent, of) && !isForMatrixSpike(parent, of);
  const numbers = { sampleNumber: toldNumber(spike, of), spikeOf: isTold ? toldNumber(parent, of) : null };
  return { ...numbers, fromExtraBottles, fromBottlesOfThatSample };
}

/** The spikes that the office has planned for a laboratory; how far the crews have come does not change them. */
export function spikesOrdered(told: ToldToLaboratory): readonly OrderedSpike[] {
  const { of } = told.world;
  const spikes = of.plannedSamples.filter((one) => one.fields.standing === 'planned' && isForMatrixSpike(one, of));
  const all = spikes.flatMap((one) => ordered(told, one) ?? []);
  return all.toSorted((a, b) => (a.sampleNumber < b.sampleNumber ? -1 : 1));
}
