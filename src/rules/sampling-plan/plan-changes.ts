import { type Chance, numberDrawer, numberSpace } from './draw-number.ts';
import type { PlanningFacts } from './planning-facts.ts';
import type { PlanProposal } from './propose-plan.ts';
import type { Fields, ProposedContainer, ProposedSample } from './proposed.ts';

/** A change as the write door takes it. */
export interface PlanChange {
  readonly verb: 'record' | 'amend';
  readonly kind: 'planned-sample' | 'container';
  readonly id: string;
  readonly base?: { readonly rev: number };
  readonly set: Fields;
}

function changeOf(kind: PlanChange['kind'], one: { id: string; rev: number | null; set: Fields | null }): PlanChange[] {
  if (one.set === null) return [];
  if (one.rev === null) return [{ verb: 'record', kind, id: one.id, set: one.set }];
  return [{ verb: 'amend', kind, id: one.id, base: { rev: one.rev }, set: one.set }];
}

/** Labels go on from the number of the sample, in the order in which its bottles are filled. */
function labelled(
  containers: readonly ProposedContainer[],
  number: string,
  given: ReadonlySet<string>,
): readonly ProposedContainer[] {
  let place = containers.filter(({ rev }) => rev !== null).length;
  return containers.map((container) => {
    if (container.rev !== null) return container;
    let label: string;
    do label = `${number}-${++place}`;
    while (given.has(label));
    return { ...container, label, set: { ...container.set, label } };
  });
}

function changesOf(sample: ProposedSample, draw: () => string, given: ReadonlySet<string>): PlanChange[] {
  const number = sample.number ?? draw();
  const set = sample.rev === null ? { ...sample.set, number } : sample.set;
  return [
    ...changeOf('planned-sample', { ...sample, set }),
    ...labelled(sample.containers, number, given).flatMap((one) => changeOf('container', one)),
  ];
}

/** What writes a proposal, one list a sample with its containers: what is in one list goes together. */
export function planChanges(
  proposal: PlanProposal,
  facts: PlanningFacts,
  chance: Chance,
): readonly (readonly PlanChange[])[] {
  const { starts } = facts.samples.event.fields;
  const isNew = proposal.samples.filter(({ rev }) => rev === null);
  const draw = numberDrawer(numberSpace(starts, facts.numbersGiven, isNew.length), facts.numbersGiven, chance);
  return proposal.samples
    .map((sample) => changesOf(sample, draw, facts.labelsGiven))
    .filter((changes) => changes.length > 0);
}

/** Lists joined to batches of at most so many changes; a longer list becomes several. */
export function inBatches(lists: readonly (readonly PlanChange[])[], most: number): readonly (readonly PlanChange[])[] {
  const batches: PlanChange[][] = [[]];
  for (const list of lists) {
    for (let at = 0; at < list.length; at += most) {
      const part = list.slice(at, at + most);
      const last = batches.at(-1);
      if (last && last.length + part.length <= most) last.push(...part);
      else batches.push([...part]);
    }
  }
  return batches.filter((batch) => batch.length > 0);
}
