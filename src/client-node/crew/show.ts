import { previewVisit } from '../../client/preview/preview.ts';
import { releasedSince, type Trouble } from '../../client/troubles.ts';
import type { RecordState } from '../../protocol/record.ts';
import { valueWords } from './conflict-value.ts';
import { refOf } from './correct.ts';
import { counted } from './counted.ts';
import { openEquipmentQuestions } from './equipment/open-questions.ts';
import { field, initials, live, theCrew, theEvent, theWell } from './find.ts';
import type { Crew } from './open-crew.ts';
import { openQuestions, standingOf } from './questions.ts';

export async function people(crew: Crew): Promise<string> {
  const { person } = await crew.client.identity();
  const { reads } = crew.settings;
  return `${await initials(crew, reads ?? person)} reads, ${await initials(crew, person)} writes`;
}

/** What a newer app writes may be an object. */
function plain(value: unknown): string {
  return typeof value === 'object' && !Array.isArray(value) ? JSON.stringify(value) : String(value);
}

function figures(record: RecordState): string {
  const skipped = ['purge', 'visit', 'observed', 'meter', 'tape', 'measuringPoint', 'shown'];
  const given = Object.entries(record.fields).filter(([name]) => !skipped.includes(name));
  return given
    .toSorted()
    .map(([name, value]) => `${name} ${plain(value)}`)
    .join(', ');
}

function under(records: readonly RecordState[], parent: string, ids: ReadonlySet<string>): RecordState[] {
  return records.filter((record) => ids.has(field(record, parent)));
}

/** What the same rules say of a purge on this device. */
async function sayStanding(crew: Crew, label: string, purge: string): Promise<void> {
  const [first, ...more] = await standingOf(crew, purge);
  if (first !== undefined) crew.say(`${label.padEnd(8)} ${first}`);
  for (const line of more) crew.say(`         ${line}`);
}

/** How the visits of this crew that go on stand, by the server's own rules. */
async function showOpenVisits(crew: Crew): Promise<void> {
  const [own, event] = [await theCrew(crew).catch(() => null), await theEvent(crew).catch(() => null)];
  if (own === null || event === null) return;
  const visits = (await live(crew, 'visit')).filter(
    (visit) => field(visit, 'crew') === own && field(visit, 'event') === event.id && field(visit, 'left') === '',
  );
  const purges = await live(crew, 'purge');
  for (const visit of visits) {
    const name = field((await crew.client.one(field(visit, 'well')))?.record, 'name');
    const here = purges.filter((purge) => field(purge, 'visit') === visit.id);
    if (here.length === 0) crew.say(`${name.padEnd(8)} ${field(visit, 'method')} goes on`);
    for (const purge of here) await sayStanding(crew, name, purge.id);
    for (const line of openQuestions(await previewVisit(crew.client, visit.id))) crew.say(`           ${line}`);
  }
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
  for (const level of under(await live(crew, 'water-level'), 'visit', visits))
    crew.say(`level    ${figures(level)}  #${refOf(level)}`);
  for (const reading of under(await live(crew, 'reading'), 'purge', purges))
    crew.say(`reading  ${figures(reading)}  #${refOf(reading)}`);
  for (const call of under(await live(crew, 'call'), 'purge', purges))
    crew.say(`call     ${figures(call)}  #${refOf(call)}`);
  for (const assessment of under(await live(crew, 'assessment'), 'purge', purges)) {
    const missing = assessment.fields.missing as readonly string[];
    crew.say(`server   ${assessment.fields.stable === true ? 'stable' : `not stable yet: ${missing.join(' ')}`}`);
  }
  for (const purge of purges) await sayStanding(crew, 'here', purge);
  for (const flag of (await live(crew, 'flag')).filter((one) => visits.has(field(one, 'visit')))) {
    if (flag.fields.standing === 'raised') crew.say(`${field(flag, 'severity').padEnd(8)} ${field(flag, 'sentence')}`);
  }
  if (visits.size === 0) crew.say(`${field(well, 'name')} was not visited in this event, as far as this device knows`);
}

function troubleLine({ sequence, mutation, outcome }: Trouble): string {
  const became = outcome.outcome === 'set_aside' ? 'set aside' : 'refused';
  return `  number ${sequence}, ${mutation.verb} ${mutation.kind}: ${became}, ${outcome.detail ?? outcome.code ?? ''}`;
}

export async function showStatus(crew: Crew): Promise<void> {
  const { client, say, settings } = crew;
  const unsent = await client.unsent(client.context.time.wall());
  const outbox = await client.context.store.outbox();
  const carried = await client.context.store.carried();
  const troubles = await client.troubles();
  await showOpenVisits(crew);
  for (const line of await openEquipmentQuestions(crew)) say(line);
  say(`server   ${settings.url}`);
  say(`here     ${await people(crew)}`);
  say(`unsent   ${unsent.count}${unsent.oldest === null ? '' : `, the oldest of ${unsent.oldest}`}`);
  const them = outbox.length === 1 ? 'it' : 'them';
  say(`kept     ${counted(outbox.length, 'record')} here until the server has ${them} in a backup too`);
  if (carried.length > 0) {
    const waiting = carried.filter(({ outcome }) => outcome === null).length;
    const aside = carried.filter(
      ({ outcome }) => outcome?.outcome === 'set_aside' || outcome?.outcome === 'refused',
    ).length;
    const lying = aside > 0 ? `, ${aside} set aside or refused when handed in` : '';
    say(`carried  ${carried.length} of other phones, ${waiting} not handed in yet${lying}`);
  }
  for (const { feed, count, complete } of await client.context.store.feeds()) {
    say(`feed     ${feed}: ${counted(count, 'record')}${complete ? '' : ', not all of them yet'}`);
  }
  say(`conflicts ${(await client.conflicts()).length}${troubles.length > 0 ? '' : ', nothing set aside or refused'}`);
  for (const trouble of troubles) say(troubleLine(trouble));
  for (const { sequence, mutation } of await releasedSince(client.context))
    say(`  number ${sequence}, ${mutation.verb} ${mutation.kind}: was set aside, released since`);
}

export async function showConflicts(crew: Crew): Promise<void> {
  const open = await crew.client.conflicts();
  if (open.length === 0) crew.say('no conflict is open here');
  for (const conflict of open) {
    const { id, record, sentence, choices } = conflict;
    crew.say(`conflict #${refOf({ id })}: ${sentence}`);
    if (record !== null && choices.length === 0)
      crew.say('  two claims, both kept: crew resolve CONFLICT --reason TEXT says that it was seen to');
    for (const [number, { value, by, shown }] of choices.entries()) {
      const whose = by === null ? '' : ` (${await initials(crew, by)}${shown ? ', shown now' : ''})`;
      crew.say(`  ${number + 1}) ${valueWords(conflict, value)}${whose}`);
    }
  }
  if (open.length === 0) return;
  const who =
    open[0]?.mayDecide === false
      ? 'a coordinator decides, and this device is of a crew'
      : 'the server takes it from a coordinator';
  crew.say(`crew resolve CONFLICT VALUE says which stands, by the sign behind # and the value or its number; ${who}`);
}
