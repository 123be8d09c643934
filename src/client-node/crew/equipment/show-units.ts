import { type EquipmentHere, equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { type MayGoHere, mayGoDownHere } from '../../../client/equipment/may-go-down-here.ts';
import { timelineHere, type UnitWithState, unitsHere, unitsOfCrew } from '../../../client/equipment/units-here.ts';
import type { TimelineEntry } from '../../../rules/equipment/unit-timeline.ts';
import { field, live, theCrew, theEvent, theWell } from '../find.ts';
import type { Crew } from '../open-crew.ts';
import { pairsIn } from '../pairs.ts';
import { crewName, timeOf } from './sign-outs.ts';
import { theUnit } from './the-unit.ts';

const STATE_WORDS: Readonly<Record<string, string>> = {
  'in-a-well': 'in a well',
  'being-cleaned': 'being cleaned',
  'out-of-service': 'out of service',
};

function stateWord({ here }: UnitWithState): string {
  const state = here.state?.state ?? 'unknown';
  return STATE_WORDS[state] ?? state;
}

async function withWords(crew: Crew, one: UnitWithState, own: string): Promise<string> {
  const said = one.with.map(async ({ crew: id, from }) => {
    const whom = id === own ? 'you' : await crewName(crew, id);
    return `with ${whom} since ${timeOf(from)}`;
  });
  return (await Promise.all(said)).join(' and ') || 'not signed out';
}

function whatItIs({ unit }: UnitWithState): string {
  const { type, use } = unit.fields;
  return `${type.replaceAll('-', ' ')}${use === 'shared' ? '' : `, ${use}`}`;
}

/** What the crew has, or every unit of the firm, and in which state. */
export async function showUnits(crew: Crew, all: boolean): Promise<void> {
  const [here, own] = [await equipmentHere(crew.client), await theCrew(crew)];
  const units = all ? unitsHere(here) : unitsOfCrew(here, own);
  const wide = Math.max(0, ...units.map(({ unit }) => unit.fields.label.length));
  const indent = ' '.repeat(wide + 2);
  for (const one of units) {
    crew.say(
      `${one.unit.fields.label.padEnd(wide)}  ${stateWord(one)}; ${whatItIs(one)}, ${await withWords(crew, one, own)}`,
    );
    const { state, goesBy, standing } = one.here;
    if (state !== null) crew.say(`${indent}${state.sentence}`);
    if (goesBy === 'server' && standing !== 'agrees') crew.say(`${indent}(so says the server, which knows more of it)`);
  }
  if (units.length === 0)
    crew.say('nothing is signed out to you: crew take UNIT; crew units --all lists what the firm has');
}

function sayStanding(crew: Crew, { here }: UnitWithState): void {
  const { state, server, goesBy, standing, sentence } = here;
  crew.say(`state     ${state?.sentence ?? 'No record here names it.'}`);
  if (standing === 'ahead')
    crew.say('          (the server does not know all of it yet: sync where there is a signal)');
  if (standing !== 'server-knows-more' && standing !== 'differs') return;
  crew.say(`          ${sentence}`);
  const other = goesBy === 'server' ? here.here : server;
  const whose = goesBy === 'server' ? 'By what is on this device alone' : 'The server said last';
  if (other !== null && other.sentence !== state?.sentence) crew.say(`          ${whose}: ${other.sentence}`);
}

function sayParts(crew: Crew, { facts: { index } }: EquipmentHere, unit: string): void {
  const on = (index.staysOfUnit.get(unit) ?? []).filter(({ until }) => until === null);
  for (const { part, type, from } of on) {
    const { label, lot } = index.parts.get(part)?.fields ?? {};
    const named = [label, lot ? `lot ${lot}` : ''].filter(Boolean).join(', ');
    crew.say(
      `part      ${(type ?? 'part').replaceAll('-', ' ')} ${named}, on it since ${from.at.slice(0, 10)} ${timeOf(from.at)}`,
    );
  }
}

const EFFORTS: Readonly<Record<string, string>> = {
  none: 'nothing to clean',
  'wipe-down': 'a wipe-down',
  rinse: 'a rinse',
  full: 'a full decon',
  'after-product': 'a decon as after product',
  replace: 'new: it is not cleaned',
};

/** What it needs before it goes into another well. */
function sayNext(crew: Crew, { decon, unit, suites }: MayGoHere, label: string): void {
  const { effort, protocols, notKnown } = decon;
  const isClean = unit.state?.state === 'clean';
  const protocol = protocols.find(({ standing }) => standing === 'advised');
  const by = protocol ? ` by ${protocol.protocol} (${protocol.title}): crew decon ${label}` : '';
  crew.say(`${isClean ? 'after use ' : 'next      '}${EFFORTS[effort] ?? effort}${by}`);
  if (!isClean) for (const reason of decon.reasons.slice(0, 2)) crew.say(`          ${reason}`);
  if (suites.length > 0) crew.say(`          thought of for the next samples: ${suites.join(', ')}`);
  if (!isClean) for (const one of notKnown) crew.say(`          not known: ${one}`);
}

function entryWords(
  entry: TimelineEntry,
  { facts: { index } }: EquipmentHere,
  crews: ReadonlyMap<string, string>,
): string {
  switch (entry.what) {
    case 'contact':
      return `${entry.how.replaceAll('-', ' ')} at ${index.wells.get(entry.well)?.fields.name ?? 'a well that is not here'}`;
    case 'decon':
      return `decon: ${entry.sentence}`;
    case 'part':
      return `${(entry.type ?? 'part').replaceAll('-', ' ')} ${index.parts.get(entry.part)?.fields.label ?? entry.lot ?? ''} on it`;
    case 'service':
      return `${entry.type.replaceAll('-', ' ')}${entry.result ? `: ${entry.result}` : ''}`;
    case 'blank':
      return `rinsate ${entry.number}`;
    case 'sign-out':
      return `with ${crews.get(entry.crew) ?? 'a crew'}`;
  }
}

const LATEST = 6;

async function sayLife(crew: Crew, all: EquipmentHere, unit: string, whole: boolean): Promise<void> {
  const { entries, limits } = timelineHere(all, unit);
  const crews = new Map((await live(crew, 'crew')).map((one) => [one.id, field(one, 'name')]));
  const shown = whole ? entries : entries.slice(-LATEST);
  if (shown.length < entries.length) crew.say(`before    ${entries.length - shown.length} more: --all`);
  for (const entry of shown) {
    const until = entry.until === null ? ' on' : entry.until === entry.from ? '' : ` to ${timeOf(entry.until)}`;
    crew.say(`${entry.from.slice(0, 10)} ${timeOf(entry.from)}${until}  ${entryWords(entry, all, crews)}`);
  }
  for (const { sentence } of limits) crew.say(`mind      ${sentence}`);
}

const USAGE = 'unit UNIT [into=WELL] [suites=VOC,metals] [--all]';

/** One unit: where it stands and why, who has it, what it needs before the next well, whether it may go into one. */
export async function showUnit(crew: Crew, given: readonly string[], whole: boolean): Promise<void> {
  const { words, pair } = pairsIn(given, ['into', 'suites']);
  const { unit, label } = await theUnit(crew, words, USAGE);
  const [all, own] = [await equipmentHere(crew.client), await theCrew(crew)];
  const one = unitsHere(all).find((found) => found.unit.id === unit.id);
  if (!one) return;
  crew.say(`${label}: ${whatItIs(one)}, ${await withWords(crew, one, own)}`);
  sayStanding(crew, one);
  sayParts(crew, all, unit.id);
  const event = await theEvent(crew);
  const into = pair('into');
  const well = into === undefined ? undefined : (await theWell(crew, event, into)).id;
  const suites = pair('suites')?.split(',').filter(Boolean);
  const may = mayGoDownHere(all, { unit: unit.id, well, suites, event: event.id });
  if (!may) return;
  if (well !== undefined) crew.say(`into ${into}: ${may.sentence}`);
  sayNext(crew, may, label);
  await sayLife(crew, all, unit.id, whole);
}
