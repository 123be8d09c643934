import { analyteGroup } from '../../../catalog/analytes/analyte-groups.ts';
import { fillsHere } from '../../../client/fills-here.ts';
import type { RecordState } from '../../../protocol/record.ts';
import { containersInOrder, isWaiting } from '../../../rules/samples/fill-order/containers-in-order.ts';
import { CrewError } from '../crew-error.ts';
import { observedNow } from '../enter.ts';
import { field, live, theEvent } from '../find.ts';
import { kept } from '../kept.ts';
import type { Crew } from '../open-crew.ts';
import { pairsIn } from '../pairs.ts';
import { mustBeReady } from '../ready.ts';
import { type At, at, openVisit } from '../visit-here.ts';
import { bottleLabelled } from './bottle-labelled.ts';
import { bottleNamed, mustBeMeantFor, otherWell, sampleFor } from './sample-for.ts';

const YES_OR_NO: Readonly<Record<string, boolean>> = { yes: true, no: false };

function yesOrNo(name: string, given: string | undefined): boolean | undefined {
  if (given === undefined) return undefined;
  const said = YES_OR_NO[given.toLowerCase()];
  if (said !== undefined) return said;
  throw new CrewError(`"${given}" is neither: ${name}=yes or ${name}=no`);
}

export const FILL_USAGE =
  'fill WELL LABEL|next [flow=90] [cell=off|on] [filtered=yes|no] [pore=0.45] [preserved=yes|no] [ph=1.5] [bubble=yes|no] [ml=40] [--anyway]';
const FILL_NAMES = ['flow', 'cell', 'filtered', 'pore', 'preserved', 'ph', 'bubble', 'ml'];

function cellOff(given: string | undefined): boolean | undefined {
  if (given === undefined) return undefined;
  if (given === 'off' || given === 'on') return given === 'off';
  throw new CrewError(`"${given}" is neither: cell=off or cell=on`);
}

async function labelled(crew: Crew, given: string): Promise<RecordState> {
  const event = (await theEvent(crew)).id;
  const here = (await live(crew, 'container')).filter((one) => field(one, 'event') === event);
  return bottleLabelled(here, here, given);
}

/** The container that was meant, or the one whose turn it is. */
async function theBottle(crew: Crew, place: At, visit: string, given: string): Promise<RecordState> {
  if (given !== 'next') return bottleNamed(crew, place, given);
  const records = await fillsHere(crew.client.context, visit);
  const next = records && containersInOrder(records).find(isWaiting);
  if (next) return next.container as unknown as RecordState;
  throw new CrewError('no container of this visit waits to be filled: crew bottles WELL shows them');
}

/** What stands of it already speaks against a fill; it is kept all the same, since who holds the bottle knows. */
async function askWhatStands(crew: Crew, bottle: RecordState): Promise<void> {
  const [label, standing] = [field(bottle, 'label'), field(bottle, 'standing')];
  const wrong = 'if it was another, crew void RECORD takes this one back';
  if (standing === 'discarded') crew.say(`question  ${label} was thrown away: is it this one that is filled? ${wrong}`);
  else if (standing === 'dropped')
    crew.say(
      `question  ${label} was left out (${field(bottle, 'droppedBecause')}): is it filled all the same? ${wrong}`,
    );
  else if (standing === 'filled' || (await isFilled(crew, bottle)))
    crew.say(`question  ${label} is full already: is it this one that is filled, and anew? ${wrong}`);
}

async function isFilled(crew: Crew, { id }: RecordState): Promise<boolean> {
  return (await live(crew, 'fill')).some((one) => field(one, 'container') === id);
}

export async function fillBottle(crew: Crew, given: readonly string[], isMeant: boolean): Promise<void> {
  const { words, pair } = pairsIn(given, FILL_NAMES);
  const [wellName = '', label = ''] = words;
  if (label === '') throw new CrewError(`something is missing: crew ${FILL_USAGE}`);
  await mustBeReady(crew);
  const place = await at(crew, wellName);
  const visit = await openVisit(crew, place);
  if (!visit) throw new CrewError(`no visit of this crew goes on at ${wellName}: enter a level or a reading first`);
  const observed = await observedNow(crew);
  const bottle = await theBottle(crew, place, visit.id, label);
  const other = await otherWell(crew, place, bottle);
  mustBeMeantFor(bottle, place, other, isMeant);
  const set = {
    container: bottle.id,
    visit: visit.id,
    volumeMl: pair('ml'),
    flowMlPerMin: pair('flow'),
    filtered: yesOrNo('filtered', pair('filtered')),
    filterPoreUm: pair('pore'),
    preserved: yesOrNo('preserved', pair('preserved')),
    ph: pair('ph'),
    bubble: yesOrNo('bubble', pair('bubble')),
    cellOff: cellOff(pair('cell')),
    collected: observed.at,
    observed,
  };
  const isBlank = field(bottle, 'blank') !== '';
  const sample = isBlank ? null : await sampleFor(crew, visit.id, bottle, other !== null);
  // its sample first: by that the fill is asked about; cut off before the last step it counts as full all the same
  if (sample !== null && field(bottle, 'sample') !== sample)
    await crew.client.amend('container', bottle.id, { sample });
  crew.say(`${field(bottle, 'label')}: ${field(bottle, 'group')}`);
  await askWhatStands(crew, bottle);
  await kept(crew, crew.client.record('fill', set));
  // what is full is not left out: nobody's agreement to that stands on
  const back = field(bottle, 'standing') === 'dropped' ? { droppedBecause: null, agreedBy: null } : {};
  if (field(bottle, 'standing') !== 'filled')
    await crew.client.amend('container', bottle.id, { standing: 'filled', ...back });
}

export const BOTTLE_USAGE = 'bottle WELL LABEL GROUP|like=LABEL [suite=VOC] [ml=40]';

/** Of the catalog, where nothing alike is here: its first material, and what is added first. */
function byCatalog(group: string): Readonly<Record<string, unknown>> {
  const known = analyteGroup(group);
  if (!known) throw new CrewError(`the catalog has no group "${group}": GET /v1/catalog lists them`);
  const { container, preservation } = known;
  return {
    group,
    type: container.kind,
    material: container.materials[0],
    ...(container.colour === 'amber' ? { colour: 'amber' } : {}),
    preservatives: [...(preservation.anyOf[0] ?? [])],
    volumeMl: String(container.bottles.volumeMl),
  };
}

const ALIKE = [
  'group',
  'alsoGroups',
  'suite',
  'type',
  'material',
  'colour',
  'preservatives',
  'volumeMl',
  'sample',
  'planned',
];

/** One that replaces another, or that nobody had labelled before. */
export async function newBottle(crew: Crew, given: readonly string[]): Promise<void> {
  const { words, pair } = pairsIn(given, ['like', 'suite', 'ml']);
  const [wellName = '', label = '', group] = words;
  const like = pair('like');
  if (label === '' || (group === undefined) === (like === undefined))
    throw new CrewError(`something is missing: crew ${BOTTLE_USAGE}`);
  await mustBeReady(crew);
  const place = await at(crew, wellName);
  const { event } = place;
  const parent = like === undefined ? null : await bottleNamed(crew, place, like);
  const copied = Object.fromEntries(
    ALIKE.flatMap((name) => (parent?.fields[name] ? [[name, parent.fields[name]]] : [])),
  );
  const parts = group === undefined ? copied : byCatalog(group);
  const more = { ...(pair('suite') ? { suite: pair('suite') } : {}), ...(pair('ml') ? { volumeMl: pair('ml') } : {}) };
  const set = { event: event.id, ...parts, ...more, label, standing: 'expected' };
  await kept(crew, crew.client.record('container', set));
}

function mustSay(reason: string | undefined, usage: string): string {
  if (reason !== undefined && reason.trim() !== '') return reason;
  throw new CrewError(`say why: crew ${usage}`);
}

export const DROP_USAGE = 'drop LABEL agreed=NAME --reason TEXT';

export async function dropBottle(crew: Crew, given: readonly string[], reason: string | undefined): Promise<void> {
  const { words, pair } = pairsIn(given, ['agreed'], ['agreed']);
  const droppedBecause = mustSay(reason, DROP_USAGE);
  const agreedBy = pair('agreed');
  const [label = ''] = words;
  if (label === '') throw new CrewError(`something is missing: crew ${DROP_USAGE}`);
  await mustBeReady(crew);
  const { id } = await labelled(crew, label);
  if (agreedBy === undefined) crew.say('question  who agreed that it is left out? agreed=NAME says it');
  const set = { standing: 'dropped', droppedBecause, agreedBy };
  await kept(crew, crew.client.amend('container', id, set, { reason: droppedBecause }));
}

export const DISCARD_USAGE = 'discard LABEL --reason TEXT';

export async function discardBottle(crew: Crew, label: string, given: string | undefined): Promise<void> {
  const reason = mustSay(given, DISCARD_USAGE);
  await mustBeReady(crew);
  const bottle = await labelled(crew, label);
  if (field(bottle, 'standing') !== 'filled' && !(await isFilled(crew, bottle)))
    crew.say(
      `question  no fill of ${label} is here: was it this one that was thrown away? What was never filled is left out: crew ${DROP_USAGE}`,
    );
  await kept(crew, crew.client.amend('container', bottle.id, { standing: 'discarded' }, { reason }));
}
