import type { RecordState } from '../../protocol/record.ts';
import { CrewError } from './crew-error.ts';
import { field, live, theCrew, theEvent, theWell } from './find.ts';
import type { Crew } from './open-crew.ts';
import { whenSeen } from './time-of-day.ts';

export interface At {
  readonly event: RecordState;
  readonly well: RecordState;
}

export async function at(crew: Crew, wellName: string): Promise<At> {
  const event = await theEvent(crew);
  return { event, well: await theWell(crew, event, wellName) };
}

function newest(records: readonly RecordState[]): RecordState | undefined {
  return records.toSorted((a, b) => (a.id < b.id ? -1 : 1)).at(-1);
}

/** The visits of this crew at a well in this event. */
export async function ownVisits(crew: Crew, { event, well }: At): Promise<RecordState[]> {
  const own = await theCrew(crew);
  return (await live(crew, 'visit')).filter(
    (visit) => field(visit, 'event') === event.id && field(visit, 'well') === well.id && field(visit, 'crew') === own,
  );
}

/** The visit of this crew that goes on at a well. */
export async function openVisit(crew: Crew, place: At): Promise<RecordState | undefined> {
  return newest((await ownVisits(crew, place)).filter((visit) => field(visit, 'left') === ''));
}

export async function openPurge(crew: Crew, visit: string): Promise<string | undefined> {
  const purges = (await live(crew, 'purge')).filter((purge) => field(purge, 'visit') === visit);
  return newest(purges.filter((purge) => field(purge, 'ended') === ''))?.id;
}

export interface Begin {
  readonly method: string;
  /** The crew was here before and left, and means to begin a second visit. */
  readonly again?: boolean;
}

/** Levels of a round are followed by a sampling visit in the ordinary course of a day; anything else may be a slip. */
function mustBeMeant(well: RecordState, visits: readonly RecordState[], { method, again = false }: Begin): void {
  const before = newest(visits);
  if (!before || again || (field(before, 'method') === 'gauging' && method !== 'gauging')) return;
  const how = `${field(before, 'outcome') || 'no outcome given'}, left at ${field(before, 'left').slice(0, 16)}`;
  throw new CrewError(
    `your visit at ${field(well, 'name')} has ended (${how}): add --again to begin a second one there; ` +
      'crew correct changes what was recorded',
  );
}

/** Goes on with the visit there, or begins one. What was begun for gauging becomes a purging visit once water moves. */
export async function visitAt(crew: Crew, place: At, begin: Begin): Promise<string> {
  const { event, well } = place;
  const { method } = begin;
  const visits = await ownVisits(crew, place);
  const open = newest(visits.filter((visit) => field(visit, 'left') === ''));
  if (open) {
    const isMore = method !== 'gauging' && field(open, 'method') === 'gauging';
    if (isMore) await crew.client.amend('visit', open.id, { method });
    return open.id;
  }
  mustBeMeant(well, visits, begin);
  const arrived = whenSeen(crew);
  const set = { event: event.id, well: well.id, crew: await theCrew(crew), method, arrived };
  crew.say(`a ${visits.length > 0 ? 'further ' : ''}visit begins at ${field(well, 'name')} (${method})`);
  return (await crew.client.record('visit', set)).id;
}

export async function purgeAt(crew: Crew, place: At, begin: Begin): Promise<string> {
  const visit = await visitAt(crew, place, begin);
  const open = await openPurge(crew, visit);
  return open ?? (await crew.client.record('purge', { visit, began: whenSeen(crew) })).id;
}
