import type { RecordState } from '../../../protocol/record.ts';
import { CrewError } from '../crew-error.ts';
import { field, live } from '../find.ts';
import type { Crew } from '../open-crew.ts';
import type { At } from '../visit-here.ts';
import { bottleLabelled } from './bottle-labelled.ts';
import { plannedOf, planOf, samplesAt } from './planned-here.ts';

/** The well that a container is labelled for: that of its planned sample, or where its sample was taken; '' for none. */
async function wellsOf(crew: Crew, { event }: Pick<At, 'event'>): Promise<(bottle: RecordState) => string> {
  const planned = new Map((await plannedOf(crew, event.id)).map((one) => [one.id, field(one, 'well')]));
  const visits = new Map((await live(crew, 'visit')).map((one) => [one.id, field(one, 'well')]));
  const samples = new Map((await live(crew, 'sample')).map((one) => [one.id, visits.get(field(one, 'visit')) ?? '']));
  return (bottle) => samples.get(field(bottle, 'sample')) || planned.get(field(bottle, 'planned')) || '';
}

/** Any container of the event; where nothing has that label, the nearest of the well are told and no others. */
export async function bottleNamed(crew: Crew, place: At, given: string): Promise<RecordState> {
  const all = (await live(crew, 'container')).filter((one) => field(one, 'event') === place.event.id);
  const wellOf = await wellsOf(crew, place);
  const near = all.filter((one) => wellOf(one) === place.well.id);
  return bottleLabelled(all, near, given);
}

/** The name of another well that a container is labelled for; null where it may be filled here. */
export async function otherWell(crew: Crew, place: At, bottle: RecordState): Promise<string | null> {
  const well = (await wellsOf(crew, place))(bottle);
  if (well === '' || well === place.well.id) return null;
  return field((await crew.client.one(well))?.record, 'name') || 'another well';
}

/** Water of the wrong well under a label is found by no one later: the one who holds the bottle has to mean it. */
export function mustBeMeantFor(bottle: RecordState, place: At, other: string | null, isMeant: boolean): void {
  if (other === null || isMeant) return;
  const [label, here] = [field(bottle, 'label'), field(place.well, 'name')];
  throw new CrewError(
    `${label} is labelled for ${other}, and this is ${here}: nothing is recorded. If it is full of water of ${here}, add --anyway and write its new label; crew bottles ${here} shows what is labelled for here`,
  );
}

/** Of several of one visit, the one that the others were taken beside. */
function mainOne(samples: readonly RecordState[]): RecordState | undefined {
  const main = samples.filter((one) => ['', 'normal'].includes(field(one, 'type')));
  return samples.length === 1 ? samples[0] : main.length === 1 ? main[0] : undefined;
}

/**
 * A container that was labelled for a planned sample is of the sample that this became, by its link or by its number, or
 * of the only one here whose number nobody planned.
 *
 * @param isElsewhere it is labelled for another well, and filled here all the same
 */
export async function sampleFor(
  crew: Crew,
  visit: string,
  bottle: RecordState,
  isElsewhere: boolean,
): Promise<RecordState['id']> {
  const own = field(bottle, 'sample');
  if (own !== '' && !isElsewhere) return own;
  const samples = await samplesAt(crew, visit);
  const planned = await plannedOf(crew, field(bottle, 'event'));
  const wanted = field(bottle, 'planned');
  const its = samples.filter((one) => wanted !== '' && planOf(one, planned)?.id === wanted);
  const unplanned = samples.filter((one) => field(one, 'planned') === '' && planOf(one, planned) === undefined);
  const found = isElsewhere ? mainOne(samples) : its.length > 0 ? its[0] : unplanned[0];
  if (found && (isElsewhere || its.length === 1 || (its.length === 0 && unplanned.length === 1))) return found.id;
  const numbers = samples.map((one) => field(one, 'number')).join(', ') || 'none';
  const number = field(
    planned.find(({ id }) => id === wanted),
    'number',
  );
  const how = number === '' || isElsewhere ? 'NUMBER SUITE...' : number;
  throw new CrewError(
    `of which sample ${field(bottle, 'label')} is, is not known (taken here: ${numbers}): crew sample WELL ${how} first`,
  );
}
