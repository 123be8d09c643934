import type { EventSamples } from '../samples/event-samples.ts';
import { plannedLinks } from '../samples/planned-links.ts';
import type { SampleRecord } from '../samples/sample-records.ts';

type Known = Pick<EventSamples, 'samples' | 'blanks' | 'containers' | 'visits' | 'plannedSamples'>;

/** Samples whose bottles were thrown away. What was dropped was to have no water; of a sample without bottles nothing is known. */
function withoutBottles({ samples, containers }: Known, plans: ReadonlyMap<string, string>): Set<string> {
  const byPlan = new Map([...plans].map(([sample, plan]) => [plan, sample]));
  const left = new Map<string, boolean>();
  for (const { fields } of containers) {
    const { sample, blank, planned, standing } = fields;
    if (standing === 'dropped') continue;
    const holder = sample ?? (blank === undefined ? byPlan.get(planned ?? '') : undefined);
    if (holder !== undefined) left.set(holder, (left.get(holder) ?? false) || standing !== 'discarded');
  }
  return new Set(samples.flatMap(({ id }) => (left.get(id) === false ? [id] : [])));
}

/** The samples that it repeats or spikes, as it says or as the plan has it; null where neither says, or none was taken yet. */
function parentsOf(sample: SampleRecord, known: Known, plans: ReadonlyMap<string, string>): readonly string[] | null {
  const { of } = sample.fields;
  if (of !== undefined) return known.samples.some(({ id }) => id === of) ? [of] : [];
  const plan = known.plannedSamples.find(({ id }) => id === plans.get(sample.id))?.fields.of;
  const taken = known.samples.filter(({ id }) => plan !== undefined && plans.get(id) === plan).map(({ id }) => id);
  return taken.length === 0 ? null : taken;
}

/**
 * Samples that are no QC sample any more: all their bottles were thrown away, or the sample that they belong to was voided
 * or lost all of its own, so that nothing is left to compare with or to spike.
 */
export function lostSamples(known: Known): ReadonlySet<string> {
  const plans = plannedLinks(known);
  const without = withoutBottles(known, plans);
  const alone = known.samples.filter((one) => {
    const parents = parentsOf(one, known, plans);
    return parents?.every((id) => without.has(id));
  });
  return new Set([...without, ...alone.map(({ id }) => id)]);
}
