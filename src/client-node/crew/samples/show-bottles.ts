import { fillOrderAt, shortWaterAt } from '../../../client/fills-here.ts';
import { decimal } from '../../../protocol/primitives.ts';
import type { FillOrderTold } from '../../../rules/samples/fill-order/fill-order-told.ts';
import { CrewError } from '../crew-error.ts';
import type { Crew } from '../open-crew.ts';
import { at, openVisit, ownVisits } from '../visit-here.ts';

type Bottle = FillOrderTold['containers'][number];

const SIGNS: Readonly<Record<Bottle['state'], string>> = {
  next: 'NEXT',
  waiting: 'waits',
  filled: 'full',
  discarded: 'thrown',
  dropped: 'dropped',
};

/** The visit that goes on, or else the last one there. */
export async function visitFor(crew: Crew, wellName: string): Promise<string> {
  const place = await at(crew, wellName);
  const visit = (await openVisit(crew, place)) ?? (await ownVisits(crew, place)).at(-1);
  if (visit) return visit.id;
  throw new CrewError(`no visit of this crew at ${wellName}: enter a level or a reading first`);
}

function filterWords({ filtered, poreUm }: Bottle): string {
  if (filtered === null) return '';
  return filtered ? `, filtered${poreUm ? ` (${poreUm} um)` : ''}` : ', unfiltered';
}

function howLong({ state, fillAtMlPerMin, fillS, atMostMlPerMin }: Bottle): string {
  if (state !== 'next' && state !== 'waiting') return '';
  if (fillAtMlPerMin !== null && fillS !== null) return `, ${fillS} s at ${fillAtMlPerMin} mL/min`;
  return atMostMlPerMin === null ? '' : `, at most ${atMostMlPerMin} mL/min`;
}

export function bottleLine(one: Bottle): string {
  const what = `${one.title ?? one.group}, ${one.volumeMl} mL`;
  const added = (one.preservatives ?? []).map((each) => each.replaceAll('-', ' ')).join(' and ');
  const inIt = one.preservatives === null ? '' : added === '' ? ', nothing added' : `, ${added}`;
  const air = one.headspace === 'none' ? ', no air' : one.headspace === 'leave-a-third' ? ', a third empty' : '';
  return `${SIGNS[one.state].padEnd(8)} ${one.label.padEnd(12)} ${what}${filterWords(one)}${inIt}${air}${howLong(one)}`;
}

export async function showBottles(crew: Crew, wellName: string): Promise<void> {
  const told = await fillOrderAt(crew.client.context, await visitFor(crew, wellName));
  if (!told) throw new CrewError(`the visit at ${wellName} is not here: crew sync`);
  for (const one of told.containers) crew.say(bottleLine(one));
  const time = told.waitingS === null ? '' : `, about ${Math.ceil(Number(told.waitingS) / 60)} min`;
  crew.say(`${told.filledCount} full, ${told.waitingCount} to fill (${told.waitingMl} mL${time}); ${told.orderTitle}`);
  for (const caution of told.cautions) crew.say(`mind     ${caution}`);
}

export async function showShortWater(crew: Crew, wellName: string, availableMl: string): Promise<void> {
  if (!decimal.safeParse(availableMl).success || Number(availableMl) < 0)
    throw new CrewError(`"${availableMl}" is no water: give millilitres, crew short WELL 900`);
  const told = await shortWaterAt(crew.client.context, await visitFor(crew, wellName), { availableMl });
  if (!told) throw new CrewError(`the visit at ${wellName} is not here: crew sync`);
  for (const { label, title, fill, volumeMl, takesMl } of told.containers) {
    const how = fill ? `fill ${volumeMl} of ${takesMl} mL` : 'DROP';
    crew.say(`${how.padEnd(20)} ${label.padEnd(12)} ${title}`);
  }
  // the last one tells how turns are given
  for (const reason of told.reasons.slice(0, -1)) crew.say(reason);
  if (told.whoAgrees !== null) crew.say(`agree    ${told.whoAgrees}`);
  if (told.whoAgrees !== null) crew.say('         crew drop LABEL agreed=NAME --reason TEXT records it');
}
