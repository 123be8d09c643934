import { SAMPLE_TYPES } from '../../../protocol/kinds/sample.ts';
import type { RecordState } from '../../../protocol/record.ts';
import { field } from '../find.ts';
import type { Crew } from '../open-crew.ts';
import type { At } from '../visit-here.ts';
import { isNumbered, plannedOf, planOf, samplesAt } from './planned-here.ts';

function whatIsPlanned(plan: RecordState): string {
  return field(plan, 'type').replaceAll('-', ' ');
}

/** The planned sample of a number, where it may be taken here; what speaks against it is asked, and nothing linked then. */
export async function planFor(crew: Crew, { event, well }: At, number: string): Promise<RecordState | undefined> {
  const plan = (await plannedOf(crew, event.id)).find((one) => isNumbered(one, number));
  if (plan === undefined) return undefined;
  const planned = field(plan, 'well');
  if (!(SAMPLE_TYPES as readonly string[]).includes(field(plan, 'type'))) {
    crew.say(`question  ${number} is planned as a ${whatIsPlanned(plan)}: is that the number on these bottles?`);
    return undefined;
  }
  if (planned !== '' && planned !== well.id) {
    const other = field((await crew.client.one(planned))?.record, 'name') || 'another well';
    crew.say(`question  ${number} is planned for ${other}: is that the number on these bottles?`);
    return undefined;
  }
  if (field(plan, 'standing') === 'dropped')
    crew.say(
      `question  ${number} was dropped from the plan (${field(plan, 'droppedBecause')}): is it taken all the same?`,
    );
  return plan;
}

/** What a sample has of its plan. Its parent is the sample of this visit that the planned parent became. */
export async function byPlan(crew: Crew, visit: string, plan: RecordState) {
  const planned = await plannedOf(crew, field(plan, 'event'));
  const parent = field(plan, 'of');
  const of = (await samplesAt(crew, visit)).find((one) => parent !== '' && planOf(one, planned)?.id === parent)?.id;
  return { number: field(plan, 'number'), type: field(plan, 'type'), planned: plan.id, ...(of ? { of } : {}) };
}

/** What was taken before its parent names it from now on. */
export async function nameParent(crew: Crew, visit: string, plan: string, sample: string): Promise<void> {
  const planned = await plannedOf(crew, field((await crew.client.one(plan))?.record, 'event'));
  for (const one of await samplesAt(crew, visit)) {
    const isBeside = field(planOf(one, planned), 'of') === plan && field(one, 'planned') !== '';
    if (isBeside && field(one, 'of') === '') await crew.client.amend('sample', one.id, { of: sample });
  }
}
