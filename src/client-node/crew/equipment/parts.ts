import { PART_TYPES } from '../../../protocol/kinds/part.ts';
import type { RecordState } from '../../../protocol/record.ts';
import { CrewError } from '../crew-error.ts';
import { observedNow } from '../enter.ts';
import { field, live, theEvent, theWell } from '../find.ts';
import { kept } from '../kept.ts';
import type { Crew } from '../open-crew.ts';
import { pairsIn } from '../pairs.ts';
import { mustBeReady } from '../ready.ts';
import { askIfNeverOn } from './asked-first.ts';
import { theUnit } from './the-unit.ts';

const ACTIONS: Readonly<Record<string, string>> = {
  install: 'installed',
  remove: 'removed',
  discard: 'discarded',
  keep: 'kept-for-well',
};

export const PART_USAGE = 'part UNIT install|remove|discard|keep PART [type=bladder lot=.. well=WELL]';

export interface NewPart {
  readonly label: string;
  readonly type?: string | undefined;
  readonly lot?: string | undefined;
}

async function partNamed(crew: Crew, { label, type }: NewPart): Promise<RecordState | undefined> {
  const isIt = (one: RecordState) => one.id === label || field(one, 'label').toLowerCase() === label.toLowerCase();
  const found = (await live(crew, 'part')).filter(
    (one) => isIt(one) && (type === undefined || field(one, 'type') === type),
  );
  const [part, ...more] = found;
  if (more.length === 0) return part;
  const each = found.map((one) => `${field(one, 'type').replaceAll('-', ' ')} ${one.id}`);
  throw new CrewError(
    `${found.length} parts are called "${label}" (${each.join(', ')}): add type=, give the id of the one, or another ` +
      'label to a new one',
  );
}

/** A part is known by what is written on it; one that nobody has heard of is recorded with its type. */
export async function thePart(crew: Crew, given: NewPart): Promise<string> {
  const known = await partNamed(crew, given);
  if (known) return known.id;
  const { label, type, lot } = given;
  if (type === undefined || !(PART_TYPES as readonly string[]).includes(type))
    throw new CrewError(`no part "${label}" is known here: say what it is with type=, one of ${PART_TYPES.join(', ')}`);
  crew.say(`${label} is new here: a ${type.replaceAll('-', ' ')}${lot ? ` of lot ${lot}` : ''}`);
  return (await crew.client.record('part', { type, label, lot })).id;
}

export async function changePart(crew: Crew, given: readonly string[]): Promise<void> {
  const { words, pair } = pairsIn(given, ['type', 'lot', 'well']);
  await mustBeReady(crew);
  const { unit, label, rest } = await theUnit(crew, words, PART_USAGE);
  const [verb = '', ...name] = rest;
  const action = Object.hasOwn(ACTIONS, verb) ? ACTIONS[verb] : undefined;
  if (!action || name.length === 0) throw new CrewError(`something is missing behind ${label}: crew ${PART_USAGE}`);
  const wellName = pair('well');
  if (action === 'kept-for-well' && wellName === undefined)
    throw new CrewError('for which well is it kept? crew part UNIT keep PART well=WELL');
  const well = wellName === undefined ? undefined : (await theWell(crew, await theEvent(crew), wellName)).id;
  const observed = await observedNow(crew);
  const part = await thePart(crew, { label: name.join(' '), type: pair('type'), lot: pair('lot') });
  if (action !== 'installed') await askIfNeverOn(crew, unit.id, part, [label, name.join(' ')]);
  await kept(crew, crew.client.record('part-change', { unit: unit.id, part, action, well, observed }));
}
