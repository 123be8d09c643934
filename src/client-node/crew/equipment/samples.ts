import { equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { unitHere } from '../../../client/equipment/unit-here.ts';
import { makeUpTime } from '../../../rules/samples/made-up-time.ts';
import { CrewError } from '../crew-error.ts';
import { field, live, theEvent } from '../find.ts';
import { kept } from '../kept.ts';
import type { Crew } from '../open-crew.ts';
import { mustBeReady } from '../ready.ts';
import { plannedOf } from '../samples/planned-here.ts';
import { byPlan, nameParent, planFor } from '../samples/planned-sample-taken.ts';
import { whenSeen } from '../time-of-day.ts';
import { at, openVisit } from '../visit-here.ts';
import { askWhoHas } from './asked-first.ts';
import { theUnit } from './the-unit.ts';

/** Suites with blanks or commas between them. */
function suitesIn(words: readonly string[]): readonly string[] {
  return words.flatMap((one) => one.split(',')).filter(Boolean);
}

export const SAMPLE_USAGE = 'sample WELL NUMBER [SUITE...]';

/** Before it is kept, so that the question stands beside the number that was typed; it is kept all the same. */
async function askOfNames(crew: Crew, event: string, number: string, suites: readonly string[]): Promise<void> {
  const visits = new Set(
    (await live(crew, 'visit')).filter((one) => field(one, 'event') === event).map(({ id }) => id),
  );
  const samples = (await live(crew, 'sample')).filter((one) => visits.has(field(one, 'visit')));
  if (samples.some((one) => field(one, 'number') === number))
    crew.say(`question  a sample ${number} is recorded in this event already: is that the number on these bottles?`);
  const assigned = (await live(crew, 'assignment')).filter((one) => field(one, 'event') === event);
  const planned = await plannedOf(crew, event);
  const known = new Set(
    [...assigned, ...samples, ...planned].flatMap(({ fields }) => (fields.suites ?? []) as readonly string[]),
  );
  const strange = suites.filter((suite) => !known.has(suite));
  if (known.size > 0 && strange.length > 0)
    crew.say(
      `question  nobody else in this event names ${strange.join(', ')}: the suites here are ${[...known].sort().join(', ')}`,
    );
}

export async function takeSample(crew: Crew, [wellName = '', number = '', ...words]: readonly string[]): Promise<void> {
  if (number === '') throw new CrewError(`something is missing: crew ${SAMPLE_USAGE}`);
  await mustBeReady(crew);
  const place = await at(crew, wellName);
  const visit = await openVisit(crew, place);
  if (!visit) throw new CrewError(`no visit of this crew goes on at ${wellName}: enter a level or a reading first`);
  const plan = await planFor(crew, place, number);
  const suites = words.length > 0 ? suitesIn(words) : ((plan?.fields.suites ?? []) as readonly string[]);
  if (suites.length === 0)
    throw new CrewError(
      `for which suites ${number} is taken is not planned: crew sample ${wellName} ${number} SUITE...`,
    );
  const collected = whenSeen(crew);
  await askOfNames(crew, field(visit, 'event'), number, suites);
  const linked = plan ? await byPlan(crew, visit.id, plan) : { number };
  const captured = await kept(crew, crew.client.record('sample', { visit: visit.id, suites, collected, ...linked }));
  if (plan) await nameParent(crew, visit.id, plan.id, captured.id);
  if (plan && field(plan, 'type') === 'blind-duplicate' && field(plan, 'laboratoryTime') === '') {
    crew.say(`mind     ${makeUpTime(number)}`);
    crew.say(`         crew correct ${captured.sequence} laboratoryTime=09:40 --reason TEXT records it`);
  }
}

export const RINSATE_USAGE = 'rinsate UNIT NUMBER [SUITE...]';

/** A rinsate is for what was sampled with the unit since its last one, where nobody says for what. */
function suitesWith({ facts: { index } }: Awaited<ReturnType<typeof equipmentHere>>, unit: string): readonly string[] {
  const last = index.blanksOfUnit.get(unit)?.at(-1)?.collected.ms ?? Number.NEGATIVE_INFINITY;
  const samples = (index.samplesOfUnit.get(unit) ?? []).filter(({ collected }) => collected.ms > last);
  return [...new Set(samples.flatMap(({ record }) => record.fields.suites))].toSorted();
}

export async function takeRinsate(crew: Crew, words: readonly string[]): Promise<void> {
  await mustBeReady(crew);
  const { unit, label, rest } = await theUnit(crew, words, RINSATE_USAGE);
  const [number, ...asked] = rest;
  if (number === undefined) throw new CrewError(`something is missing: crew ${RINSATE_USAGE}`);
  const all = await equipmentHere(crew.client);
  const suites = asked.length > 0 ? suitesIn(asked) : suitesWith(all, unit.id);
  if (suites.length === 0)
    throw new CrewError(
      `no sample taken with ${label} is known here: say for which suites, crew rinsate ${label} ${number} VOC`,
    );
  const { state } = unitHere(all, unit.id);
  const decon = state?.state === 'clean' && state.becauseKind === 'decon' ? state.becauseRecord : undefined;
  const event = (await theEvent(crew)).id;
  const collected = whenSeen(crew);
  await askWhoHas(crew, unit.id, label);
  crew.say(`a rinsate through ${label} for ${suites.join(', ')}${decon ? ', to prove its decon' : ''}`);
  if (decon === undefined)
    crew.say(
      `question  ${label} is not clean by a decon: the rinsate shows what it carries now, and proves no cleaning.`,
    );
  await kept(
    crew,
    crew.client.record('blank', { event, type: 'equipment', number, unit: unit.id, decon, collected, suites }),
  );
}
