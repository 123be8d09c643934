import type { CrewStatus, WellStatus, WellTotals } from '../../src/reads/event-status-result.ts';
import type { EventNews, FlagNews } from './event-news.ts';
import { moment, table, wrapped } from './layout.ts';

/** MW-2 before MW-10. */
function inOrder(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}

function totalsLine({ planned, sampled, stable, purging, gauging, claimed, ended, notStarted }: WellTotals): string {
  const work = [`${stable} stable`, `${purging} purging`, `${gauging} being gauged`, `${claimed} claimed`];
  return `${planned} wells planned: ${sampled} sampled, ${work.join(', ')}, ${ended} ended otherwise, ${notStarted} not started`;
}

function wellRow(news: EventNews, well: WellStatus): string[] {
  const zone = news.status.site.timeZone;
  const stableAt = news.firstStable.get(well.visit ?? '');
  const purged = well.standing === 'sampled' || well.standing === 'stable';
  return [
    well.name,
    well.standing,
    well.crew?.name ?? well.assignedTo.map(({ name }) => name).join(', '),
    purged && stableAt !== undefined ? moment(stableAt, zone) : '',
    well.samples === 0 ? '' : String(well.samples),
    well.openFlags === 0 ? '' : String(well.openFlags),
    well.outcome ?? '',
  ];
}

const HEADINGS = ['Well', 'Standing', 'Crew', 'First stable, as entered', 'Samples', 'Open flags', 'Outcome'];

function whyLines(wells: readonly WellStatus[]): string[] {
  const ended = wells.filter(({ standing, outcomeReason }) => standing === 'ended' && outcomeReason !== null);
  return ended.flatMap(({ name, outcome, outcomeReason }) => wrapped(`${name} ${outcome}: ${outcomeReason}`, 2));
}

const ADDRESSEES = [
  ['now', 'now, at the well'],
  ['tonight', 'tonight, at the truck'],
  ['office', 'the office'],
] as const;

function flagLines(flags: readonly FlagNews[]): string[] {
  const open = flags.filter(({ standing }) => standing === 'raised');
  const lines = ADDRESSEES.flatMap(([addressee, words]) => {
    const own = open.filter((flag) => flag.addressee === addressee);
    const told = own.flatMap((flag) => wrapped(`${flag.about}, ${flag.severity}, ${flag.rule}: ${flag.sentence}`, 4));
    return [`  for ${words}: ${own.length === 0 ? 'none' : own.length}`, ...told];
  });
  const cleared = flags.filter(({ standing }) => standing === 'cleared');
  const listed = cleared.flatMap(({ about, rule }) => `    ${about}, ${rule}`);
  return [...lines, `  cleared by a correction, and still listed: ${cleared.length}`, ...listed];
}

function unsentLine(crew: CrewStatus, zone: string): string[] {
  const { unsentCount, unsentOldest, lastPush } = crew;
  const count = unsentCount === null ? 'never heard of' : String(unsentCount);
  const oldest = unsentOldest === null ? '' : `oldest ${moment(unsentOldest, zone)}`;
  return [crew.name, `${count} unsent`, lastPush === null ? '' : `said ${moment(lastPush, zone)}`, oldest];
}

/** How an event stands, in lines for people. */
export function eventLines(news: EventNews): string[] {
  const { status } = news;
  const flags = news.flags.toSorted((a, b) => inOrder(a.about, b.about));
  const conflicts = news.conflicts.toSorted((a, b) => inOrder(a.about, b.about));
  const wells = status.wells.toSorted((a, b) => inOrder(a.name, b.name));
  const open = conflicts.filter(({ standing }) => standing === 'open');
  const { setAside } = status.totals;
  return [
    totalsLine(status.totals.wells),
    '',
    ...table([HEADINGS, ...wells.map((well) => wellRow(news, well))]),
    '',
    'Ended otherwise, and why',
    ...whyLines(wells),
    '',
    'Open flags',
    ...flagLines(flags),
    '',
    `Conflicts for a person to decide: ${open.length}`,
    ...open.flatMap(({ about, sentence }) => wrapped(`${about}: ${sentence}`, 2)),
    '',
    'What each crew last said it had not sent',
    ...table(status.crews.map((crew) => unsentLine(crew, status.site.timeZone))),
    `  set aside at the server: ${setAside.waiting + setAside.forAPerson + setAside.refused}`,
  ];
}
