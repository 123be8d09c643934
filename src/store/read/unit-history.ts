import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

/** Key by key, so that a plan that is remembered from when a table was small never scans the whole of it. */
const eachOf = (wanted: string, select: string) =>
  `(select x.* from ${wanted} w cross join lateral (${select} offset 0) x)`;

/** Of what is read now and then the first and the last of a visit say when the unit was there. */
const ends = (of: string, group: string) =>
  `select ${group}, array[(array_agg(id order by observed_at, id))[1], (array_agg(id order by observed_at desc, id desc))[1]] as ids
  from ${of} group by ${group}`;

const tapes = (table: string) => ends(`${table} where firm = $1 and tape = w.id and not voided`, 'visit');

/** How far back the records go: which visits are looked at, and from when on what lies in no visit. */
interface Reach {
  /** Relations set_ups, uses, levels, soundings and readings. */
  readonly contacts: string;
  /** The checks of meters, of which there are many each day. */
  readonly checks: string;
  readonly isSince: (column: string) => string;
}

const EVER: Reach = {
  contacts: `set_ups as materialized ${eachOf(
    'u',
    `select visit from pump_set_up where firm = $1 and pump = w.id and not voided
  union all select visit from pump_set_up where firm = $1 and flow_cell = w.id and not voided`,
  )},
uses as materialized ${eachOf('u', 'select id, visit from unit_use where firm = $1 and unit = w.id and not voided')},
levels as materialized ${eachOf('u', `${tapes('water_level')}`)},
soundings as materialized ${eachOf('u', `${tapes('sounding')}`)},
readings as materialized ${eachOf('u', ends('reading where firm = $1 and meter = w.id and not voided', 'purge'))}`,
  checks: '',
  isSince: () => 'true',
};

/** The ends of what names one of the units at a place. */
const endsHere = (table: string, unit: string, place: string) =>
  ends(
    `${table} where firm = $1 and ${place} = w.id and ${unit} in (select id from u) and not voided`,
    `${place}, ${unit}`,
  );

/** Of one event: its visits, and from them what was there, so that other events cost nothing. */
const OF_EVENT: Reach = {
  contacts: `here as materialized (select id from visit where firm = $1 and event = $4 and not voided),
set_ups as materialized ${eachOf(
    'here',
    `select visit from pump_set_up where firm = $1 and visit = w.id and not voided
    and (pump in (select id from u) or flow_cell in (select id from u))`,
  )},
uses as materialized ${eachOf('here', 'select id, visit from unit_use where firm = $1 and visit = w.id and unit in (select id from u) and not voided')},
levels as materialized ${eachOf('here', endsHere('water_level', 'tape', 'visit'))},
soundings as materialized ${eachOf('here', endsHere('sounding', 'tape', 'visit'))},
purges_here as materialized ${eachOf('here', 'select id from purge where firm = $1 and visit = w.id and not voided')},
readings as materialized ${eachOf('purges_here', endsHere('reading', 'meter', 'purge'))}`,
  checks: `union select id from ${eachOf('u', 'select id from calibration_check where firm = $1 and unit = w.id and observed_at >= $5 and not voided')} e`,
  isSince: (column) => `${column} >= $5`,
};

function textOf({ contacts, checks, isSince }: Reach): string {
  return `with u as materialized (select id from unnest($2::uuid[]) as t(id)),
decons as materialized ${eachOf('u', `select id, event, ended is null as is_open from decon where firm = $1 and unit = w.id and ${isSince('began')} and not voided`)},
steps as materialized ${eachOf(
    'decons',
    `select id, part, w.is_open or part is not null or step = any($3) as is_whole from decon_step
  where firm = $1 and decon = w.id and not voided`,
  )},
changes as materialized ${eachOf('u', `select id, part from part_change where firm = $1 and unit = w.id and ${isSince('observed_at')} and not voided`)},
parts as materialized (select part as id from changes union select part from steps where part is not null),
moved as materialized ${eachOf('parts', 'select id from part_change where firm = $1 and part = w.id and not voided')},
moved_steps as materialized ${eachOf('parts', 'select id, decon from decon_step where firm = $1 and part = w.id and not voided')},
${contacts},
purges as materialized ${eachOf('(select distinct purge as id from readings)', 'select id, visit from purge where firm = $1 and id = w.id and not voided')},
visits as materialized (select visit as id from set_ups union select visit from uses union select visit from levels
  union select visit from soundings union select visit from purges),
placed as materialized ${eachOf('visits', 'select id, event, well from visit where firm = $1 and id = w.id and not voided')},
signed as materialized ${eachOf('u', `select id, crew from sign_out where firm = $1 and unit = w.id and ("until" is null or ${isSince('"until"')}) and not voided`)},
blanks as materialized (select distinct id, event from (
  select * from ${eachOf('u', `select id, event from blank where firm = $1 and unit = w.id and ${isSince('collected')} and not voided`)} a
  union all select * from ${eachOf('decons', 'select id, event from blank where firm = $1 and decon = w.id and not voided')} b
) c),
ids as (
  select id from u union select id from decons union select id from steps where is_whole union select id from changes
  union select id from parts union select id from moved union select id from moved_steps
  union select decon from moved_steps union select id from uses
  union select unnest(ids) from levels union select unnest(ids) from soundings union select unnest(ids) from readings
  union select id from purges union select id from placed union select well from placed
  union select event from placed union select event from decons where event is not null
  union select id from blanks union select event from blanks
  union select id from ${eachOf('u', 'select id from unit_service where firm = $1 and unit = w.id and not voided')} a
  ${checks}
  union select id from signed union select crew from signed
  union select id from ${eachOf('(select distinct well as id from placed)', 'select site as id from well where firm = $1 and id = w.id')} b
  union select id from ${eachOf('placed', 'select id from pump_set_up where firm = $1 and visit = w.id and not voided')} c
  union select id from ${eachOf('placed', 'select id from sample where firm = $1 and visit = w.id and not voided')} d
)
select h.kind, '[' || string_agg(l.state::text, ',') || ']' as states
from ids t
cross join lateral (select kind, feed, seq from head where firm = $1 and id = t.id and not gone offset 0) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l
group by h.kind`;
}

const TEXT = textOf(EVER);
const TEXT_OF_EVENT = textOf(OF_EVENT);

interface KindRow {
  readonly kind: string;
  readonly states: string;
}

function byKind(rows: readonly KindRow[]): ReadonlyMap<string, readonly RecordState[]> {
  return new Map(rows.map(({ kind, states }) => [kind, JSON.parse(states) as RecordState[]]));
}

/**
 * Everything that says where these units were and what they touched, kind by kind, in one statement however long their
 * history is: their decons, services, soft parts with whatever else was done with those, visits, what was set up and
 * sampled there, blanks, wells with their sites, events and crews. Results of laboratories are asked for by themselves, and
 * so are the steps of a decon that only say that they were done.
 *
 * @param partSteps steps that replace a part in some protocol
 */
export async function unitHistory(
  tx: ReadTx,
  units: readonly string[],
  partSteps: readonly string[],
): Promise<ReadonlyMap<string, readonly RecordState[]>> {
  const values = [tx.firm, units, partSteps];
  const { rows } = await tx.client.query<KindRow>({ name: 'unit-history', text: TEXT, values });
  return byKind(rows);
}

/** One event, and what lies in no visit from a moment on. */
export interface EventReach {
  readonly event: string;
  readonly since: string;
}

/** The same so far as one event goes: its visits, with cleanings, parts, blanks and checks since a moment. */
export async function unitHistoryOfEvent(
  tx: ReadTx,
  units: readonly string[],
  partSteps: readonly string[],
  { event, since }: EventReach,
): Promise<ReadonlyMap<string, readonly RecordState[]>> {
  const values = [tx.firm, units, partSteps, event, since];
  const { rows } = await tx.client.query<KindRow>({ name: 'unit-history-of-event', text: TEXT_OF_EVENT, values });
  return byKind(rows);
}
