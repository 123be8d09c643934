import type { Captured } from '../../../client/capture.ts';
import { type EquipmentHere, equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { signedOut, type WithCrew } from '../../../client/equipment/signed-out.ts';
import { unitHere } from '../../../client/equipment/unit-here.ts';
import { CrewError } from '../crew-error.ts';
import { observedNow } from '../enter.ts';
import { field, live, oneNamed, theCrew, theEvent } from '../find.ts';
import { kept } from '../kept.ts';
import type { Crew } from '../open-crew.ts';
import { mustBeReady } from '../ready.ts';
import { whenSeen } from '../time-of-day.ts';
import { theUnit } from './the-unit.ts';

export async function crewName(crew: Crew, id: string): Promise<string> {
  return field((await crew.client.one(id))?.record, 'name') || 'another crew';
}

export function timeOf(at: string): string {
  return at.slice(11, 16);
}

function withWhom({ records }: EquipmentHere, unit: string): readonly WithCrew[] {
  return signedOut(records.signOuts).filter((one) => one.unit === unit);
}

async function signOut(crew: Crew, unit: string, to: string, from: string): Promise<Captured> {
  const event = (await theEvent(crew)).id;
  return crew.client.record('sign-out', { unit, crew: to, event, from, observed: await observedNow(crew) });
}

/** What a crew wants to know before it drives off with it. */
function sayState(crew: Crew, all: EquipmentHere, unit: string): void {
  const sentence = unitHere(all, unit).state?.sentence;
  if (sentence) crew.say(`state     ${sentence}`);
}

async function sayOthers(crew: Crew, others: readonly WithCrew[], label: string): Promise<void> {
  const own = await crewName(crew, await theCrew(crew));
  for (const { crew: id, from } of others) {
    const name = await crewName(crew, id);
    crew.say(`question  By the records ${name} has ${label} since ${timeOf(from)}. Did they give it to you?`);
    crew.say(
      `          They say so with: crew hand ${label} to ${own}. Until then both are listed and the office is asked.`,
    );
  }
}

export async function take(crew: Crew, words: readonly string[]): Promise<void> {
  await mustBeReady(crew);
  const { unit, label, rest } = await theUnit(crew, words, 'take UNIT');
  if (rest.length > 0) throw new CrewError(`"${rest.join(' ')}" means nothing behind ${label}: crew take UNIT`);
  const [all, own] = [await equipmentHere(crew.client), await theCrew(crew)];
  const out = withWhom(all, unit.id);
  const mine = out.find((one) => one.crew === own);
  if (mine) crew.say(`${label} is with you since ${timeOf(mine.from)} already: nothing more to record`);
  else {
    crew.say(`${label} is with you from now on`);
    await kept(crew, signOut(crew, unit.id, own, whenSeen(crew)));
  }
  await sayOthers(
    crew,
    out.filter((one) => one.crew !== own),
    label,
  );
  sayState(crew, all, unit.id);
}

function mustBeOurs(out: readonly WithCrew[], own: string, label: string): WithCrew {
  const mine = out.find((one) => one.crew === own);
  if (mine) return mine;
  throw new CrewError(`by the records ${label} is not with you: crew take ${label} records that it is`);
}

/** Both sides of a hand-over may have recorded that this crew took it: each record ends. */
async function end(crew: Crew, { open }: WithCrew, until: string): Promise<void> {
  for (const { id } of open) await kept(crew, crew.client.amend('sign-out', id, { until }));
}

export async function giveBack(crew: Crew, words: readonly string[]): Promise<void> {
  await mustBeReady(crew);
  const { unit, label } = await theUnit(crew, words, 'return UNIT');
  const [all, own] = [await equipmentHere(crew.client), await theCrew(crew)];
  const mine = mustBeOurs(withWhom(all, unit.id), own, label);
  crew.say(`${label} is back`);
  await end(crew, mine, whenSeen(crew));
  sayState(crew, all, unit.id);
  const state = unitHere(all, unit.id).state?.state;
  if (state === 'in-a-well') crew.say('          Is it out of the well? crew leave WELL OUTCOME ends the visit there.');
  if (state === 'used' || state === 'being-cleaned')
    crew.say(`          The next crew has to clean it first: crew decon ${label} if you do it now.`);
}

async function theOtherCrew(crew: Crew, words: readonly string[], own: string) {
  const given = words.filter((one) => one !== 'to').join(' ');
  if (given === '') throw new CrewError('something is missing: crew hand UNIT to CREW');
  const crews = await live(crew, 'crew');
  // "south" is enough for the South crew, where no other begins like it
  const [begins, ...more] = crews.filter((one) => field(one, 'name').toLowerCase().startsWith(given.toLowerCase()));
  const other = begins && more.length === 0 ? begins : oneNamed('crew', crews, ['name'], given);
  if (other.id === own)
    throw new CrewError(`${field(other, 'name')} is your own crew: crew take and return are for that`);
  return other;
}

/** The end of the one and the beginning of the other at one time, so that neither crew seems to have it twice. */
export async function handOver(crew: Crew, words: readonly string[]): Promise<void> {
  await mustBeReady(crew);
  const { unit, label, rest } = await theUnit(crew, words, 'hand UNIT to CREW');
  const [all, own] = [await equipmentHere(crew.client), await theCrew(crew)];
  const other = await theOtherCrew(crew, rest, own);
  const mine = mustBeOurs(withWhom(all, unit.id), own, label);
  const now = whenSeen(crew);
  crew.say(`${label} goes to ${field(other, 'name')}; they need not record it again`);
  await end(crew, mine, now);
  await kept(crew, signOut(crew, unit.id, other.id, now));
  sayState(crew, all, unit.id);
}
