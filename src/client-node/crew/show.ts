import type { OpenConflict } from '../../client/conflicts.ts';
import type { Trouble } from '../../client/troubles.ts';
import type { RecordState } from '../../protocol/record.ts';
import { field, initials, live, theCrew, theEvent, theWell } from './find.ts';
import type { Crew } from './open-crew.ts';

export async function people(crew: Crew): Promise<string> {
  const { person } = await crew.client.identity();
  const { reads } = crew.settings;
  return `${await initials(crew, reads ?? person)} reads, ${await initials(crew, person)} writes`;
}

export async function showWells(crew: Crew): Promise<void> {
  const event = await theEvent(crew);
  const own = await theCrew(crew);
  const wells = (await live(crew, 'well')).filter((well) => field(well, 'site') === field(event, 'site'));
  const assignments = (await live(crew, 'assignment')).filter((one) => field(one, 'event') === event.id);
  const crews = new Map((await live(crew, 'crew')).map((one) => [one.id, field(one, 'name')]));
  const visits = (await live(crew, 'visit')).filter((one) => field(one, 'event') === event.id);
  crew.say(`${field(event, 'name')}, ${field(event, 'starts')} to ${field(event, 'ends')}`);
  for (const well of wells.toSorted((a, b) =>
    field(a, 'name').localeCompare(field(b, 'name'), 'en', { numeric: true }),
  )) {
    const crewIds = assignments.filter((one) => field(one, 'well') === well.id).map((one) => field(one, 'crew'));
    const whose = crewIds.map((id) => (id === own ? 'yours' : (crews.get(id) ?? 'another crew')));
    const here = visits.filter((visit) => field(visit, 'well') === well.id);
    const stand = here.map((visit) => field(visit, 'outcome') || `${field(visit, 'method')} goes on`);
    const depth = field(well, 'totalDepthFt');
    const parts = [depth && `${depth} ft`, whose.join(' and '), stand.join(', ') || 'not visited'];
    crew.say(`  ${field(well, 'name').padEnd(10)} ${parts.filter(Boolean).join('; ')}`);
  }
}

function figures(record: RecordState): string {
  const skipped = ['purge', 'visit', 'observed', 'meter', 'tape', 'measuringPoint', 'shown'];
  const given = Object.entries(record.fields).filter(([name]) => !skipped.includes(name));
  return given
    .toSorted()
    .map(([name, value]) => `${name} ${String(value)}`)
    .join(', ');
}

function under(records: readonly RecordState[], parent: string, ids: ReadonlySet<string>): RecordState[] {
  return records.filter((record) => ids.has(field(record, parent)));
}

/** What is recorded at a well, what the server made of it, and what it asks. */
export async function showWell(crew: Crew, name: string): Promise<void> {
  const event = await theEvent(crew);
  const well = await theWell(crew, event, name);
  const here = (await live(crew, 'visit')).filter(
    (visit) => field(visit, 'well') === well.id && field(visit, 'event') === event.id,
  );
  const visits = new Set(here.map(({ id }) => id));
  const purges = new Set(under(await live(crew, 'purge'), 'visit', visits).map(({ id }) => id));
  for (const level of under(await live(crew, 'water-level'), 'visit', visits)) crew.say(`level    ${figures(level)}`);
  for (const reading of under(await live(crew, 'reading'), 'purge', purges)) crew.say(`reading  ${figures(reading)}`);
  for (const call of under(await live(crew, 'call'), 'purge', purges)) crew.say(`call     ${figures(call)}`);
  for (const assessment of under(await live(crew, 'assessment'), 'purge', purges)) {
    const missing = assessment.fields.missing as readonly string[];
    crew.say(`server   ${assessment.fields.stable === true ? 'stable' : `not stable yet: ${missing.join(' ')}`}`);
  }
  for (const flag of (await live(crew, 'flag')).filter((one) => visits.has(field(one, 'visit')))) {
    if (flag.fields.standing === 'raised') crew.say(`${field(flag, 'severity').padEnd(8)} ${field(flag, 'sentence')}`);
  }
  if (visits.size === 0) crew.say(`${field(well, 'name')} was not visited in this event, as far as this device knows`);
}

function troubleLine({ mutationId, mutation, outcome }: Trouble): string {
  const became = outcome.outcome === 'set_aside' ? 'set aside' : 'refused';
  return `  number ${mutationId}, ${mutation.verb} ${mutation.kind}: ${became}, ${outcome.detail ?? outcome.code ?? ''}`;
}

export async function showStatus(crew: Crew): Promise<void> {
  const { client, say, settings } = crew;
  const unsent = await client.unsent(client.context.time.wall());
  const outbox = await client.context.store.outbox();
  const carried = await client.context.store.carried();
  const troubles = await client.troubles();
  say(`server   ${settings.url}`);
  say(`here     ${await people(crew)}`);
  say(`unsent   ${unsent.count}${unsent.oldest === null ? '' : `, the oldest of ${unsent.oldest}`}`);
  say(`kept     ${outbox.length} records here until the server has them in a backup too`);
  if (carried.length > 0) {
    const waiting = carried.filter(({ outcome }) => outcome === null).length;
    say(`carried  ${carried.length} of other phones, ${waiting} not handed in yet`);
  }
  for (const { feed, count, complete } of await client.context.store.feeds()) {
    say(`feed     ${feed}: ${count} records${complete ? '' : ', not all of them yet'}`);
  }
  say(`conflicts ${(await client.conflicts()).length}${troubles.length > 0 ? '' : ', nothing set aside or refused'}`);
  for (const trouble of troubles) say(troubleLine(trouble));
}

export interface Choice {
  readonly value: unknown;
  readonly by: string | null;
  readonly shown: boolean;
}

interface Rival {
  readonly value: unknown;
  readonly by?: string | null;
}

/** Two crews want one thing: there is no value to choose. */
export function isClaim({ record }: OpenConflict): boolean {
  return record?.fields.type === 'well-claim' || record?.fields.type === 'sign-out';
}

/** The values of a conflict, the one that is shown first. */
export function choicesOf(conflict: OpenConflict): Choice[] {
  const { record } = conflict;
  if (record === null || isClaim(conflict)) return [];
  const { shown, kept } = record.fields as { shown: Rival; kept: readonly Rival[] };
  return [shown, ...kept].map(({ value, by = null }, at) => ({ value, by, shown: at === 0 }));
}

export async function showConflicts(crew: Crew): Promise<void> {
  const open = await crew.client.conflicts();
  if (open.length === 0) crew.say('no conflict is open here');
  for (const [at, conflict] of open.entries()) {
    const sentence = field(conflict.record, 'sentence') || 'not pulled yet: crew sync';
    crew.say(`conflict ${at + 1}: ${sentence}`);
    if (isClaim(conflict))
      crew.say('  two claims, both kept: crew resolve CONFLICT --reason TEXT says that it was seen to');
    for (const [number, { value, by, shown }] of choicesOf(conflict).entries()) {
      const whose = by === null ? '' : ` (${await initials(crew, by)}${shown ? ', shown now' : ''})`;
      crew.say(`  ${number + 1}) ${typeof value === 'string' ? value : JSON.stringify(value)}${whose}`);
    }
  }
  if (open.length > 0)
    crew.say('crew resolve CONFLICT VALUE says which stands, by these numbers; the server takes it from a coordinator');
}
