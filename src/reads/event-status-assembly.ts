import type { AssignmentRow } from '../store/read/event-status-assignments.ts';
import type { ClaimRow } from '../store/read/event-status-claims.ts';
import type { EventRow } from '../store/read/event-status-events.ts';
import type { ConflictCountRow, FlagCountRow } from '../store/read/event-status-questions.ts';
import type { VisitRow } from '../store/read/event-status-visits.ts';
import { addSetAside, type CrewInTouch } from './crews-in-touch.ts';
import type {
  CrewStatus,
  EventStatus,
  EventTotals,
  FlagCount,
  Named,
  WellStanding,
  WellStatus,
  WellTotals,
} from './event-status-result.ts';
import { groupBy } from './group-by.ts';
import { wellStanding } from './well-standing.ts';

/** What is known of one event. */
export interface EventFacts {
  readonly event: EventRow;
  readonly assignments: readonly AssignmentRow[];
  readonly visits: readonly VisitRow[];
  readonly claims: readonly ClaimRow[];
  readonly flags: readonly FlagCountRow[];
  readonly conflicts: readonly ConflictCountRow[];
  readonly inTouch: ReadonlyMap<string, CrewInTouch>;
}

interface WellFacts {
  readonly id: string;
  readonly name: string;
  readonly assignments: readonly AssignmentRow[];
  readonly visits: readonly VisitRow[];
  readonly claims: readonly ClaimRow[];
  readonly flags: readonly FlagCountRow[];
}

function crewOf(row: { readonly crew: string; readonly crewName: string }): Named {
  return { id: row.crew, name: row.crewName };
}

function distinct(named: readonly Named[]): Named[] {
  return [...new Map(named.map((one) => [one.id, one])).values()];
}

function byWell<Row extends { readonly well: string | null }>(rows: readonly Row[]): (well: string) => readonly Row[] {
  const groups = groupBy(rows, (row) => row.well);
  return (well) => groups.get(well) ?? [];
}

/** Names are sorted by their characters, as every other list of wells is. */
function byName(a: Named, b: Named): number {
  if (a.name !== b.name) return a.name < b.name ? -1 : 1;
  return a.id < b.id ? -1 : 1;
}

function wellFacts(facts: EventFacts): WellFacts[] {
  const named = [...facts.assignments, ...facts.visits, ...facts.claims].flatMap(({ well, wellName }) =>
    well === null || wellName === null ? [] : [{ id: well, name: wellName }],
  );
  const [assigned, visited] = [byWell(facts.assignments), byWell(facts.visits)];
  const [claimed, flagged] = [byWell(facts.claims), byWell(facts.flags)];
  return distinct(named)
    .toSorted(byName)
    .map(({ id, name }) => ({
      id,
      name,
      assignments: assigned(id),
      visits: visited(id),
      claims: claimed(id),
      flags: flagged(id),
    }));
}

function wellStatus(facts: WellFacts): WellStatus {
  const { id, name, assignments, visits, claims } = facts;
  const toSample = assignments.some((one) => one.toSample);
  const { standing, since, visit } = wellStanding(visits, claims, toSample);
  const worker = visit ?? claims.at(0);
  return {
    id,
    name,
    planned: assignments.length > 0,
    toSample,
    assignedTo: distinct(assignments.map(crewOf)),
    standing,
    since,
    crew: worker ? crewOf(worker) : null,
    claimedBy: distinct(claims.map(crewOf)),
    visit: visit?.id ?? null,
    purge: visit?.purge ?? null,
    outcome: visit?.outcome ?? null,
    outcomeReason: visit?.outcomeReason ?? null,
    samples: visits.reduce((sum, one) => sum + one.samples, 0),
    openFlags: facts.flags.reduce((sum, one) => sum + one.count, 0),
  };
}

const NO_TOUCH: CrewInTouch = {
  lastPush: null,
  lastPull: null,
  unsentCount: null,
  unsentOldest: null,
  clockDifferenceMs: null,
  setAside: addSetAside([]),
  devices: [],
};

function crewStatuses(facts: EventFacts): CrewStatus[] {
  const crews = distinct([...facts.assignments, ...facts.visits, ...facts.claims].map(crewOf));
  return crews.toSorted(byName).map((crew) => ({ ...crew, ...(facts.inTouch.get(crew.id) ?? NO_TOUCH) }));
}

function flagCounts(rows: readonly FlagCountRow[]): FlagCount[] {
  const groups = groupBy(rows, ({ addressee, severity }) => `${addressee} ${severity}`);
  return [...groups.keys()].toSorted().map((key) => {
    const [addressee = '', severity = ''] = key.split(' ');
    return { addressee, severity, count: (groups.get(key) ?? []).reduce((sum, row) => sum + row.count, 0) };
  });
}

function wellTotals(wells: readonly WellStatus[]): WellTotals {
  const count = (standing: WellStanding) => wells.filter((well) => well.standing === standing).length;
  const planned = wells.filter((well) => well.planned).length;
  return {
    planned,
    unplanned: wells.length - planned,
    notStarted: count('not-started'),
    claimed: count('claimed'),
    gauging: count('gauging'),
    purging: count('purging'),
    stable: count('stable'),
    sampled: count('sampled'),
    ended: count('ended'),
  };
}

function totals(facts: EventFacts, wells: readonly WellStatus[], crews: readonly CrewStatus[]): EventTotals {
  const sum = (rows: readonly { readonly count: number }[]) => rows.reduce((total, row) => total + row.count, 0);
  return {
    wells: wellTotals(wells),
    visits: facts.visits.length,
    samples: facts.visits.reduce((total, visit) => total + visit.samples, 0),
    openFlags: sum(facts.flags),
    openConflicts: sum(facts.conflicts),
    unsent: crews.reduce((total, crew) => total + (crew.unsentCount ?? 0), 0),
    setAside: addSetAside(crews.map((crew) => crew.setAside)),
  };
}

/** Puts together how an event stands; nothing is asked of the database here. */
export function assembleStatus(facts: EventFacts): EventStatus {
  const { id, name, standing, starts, ends, site, siteName, timeZone } = facts.event;
  const wells = wellFacts(facts).map(wellStatus);
  const crews = crewStatuses(facts);
  const conflicts = facts.conflicts
    .map(({ type, certainty, count }) => ({ type, certainty, count }))
    .toSorted((a, b) => (`${a.type} ${a.certainty}` < `${b.type} ${b.certainty}` ? -1 : 1));
  return {
    event: { id, name, standing, starts, ends },
    site: { id: site, name: siteName, timeZone },
    totals: totals(facts, wells, crews),
    wells,
    crews,
    flags: flagCounts(facts.flags),
    conflicts,
  };
}
