import { TELLING_OCCURRENCES } from '../rules/equipment/telling-occurrences.ts';

/**
 * What a unit is judged by, in two statements whatever its history is. Every look-up goes key by key through an index: the
 * fences (`offset 0`) keep the planner from joining over all rows of the firm.
 */

const TELLING = TELLING_OCCURRENCES.map((type) => `'${type}'`).join(', ');

/** Everything else that hangs in a well may carry water to the next. */
const NO_TAPE = `type <> 'water-level-tape'`;

/** Columns of the rows of a table that fit each key; `keys` is a relation with a column `id`. */
function each(keys: string, columns: string, table: string, where: string): string {
  return `select ${columns} from ${keys} k cross join lateral (
    select * from ${table} r where r.firm = $1 and ${where} offset 0) r`;
}

/** A relation of the ids that a parameter gives. */
function given(name: string, parameter: number): string {
  return `${name}(id) as materialized (select unnest($${parameter}::uuid[]))`;
}

function relation(name: string, ...parts: readonly string[]): string {
  return `${name} as materialized (\n  ${parts.join('\n  union ')}\n)`;
}

/** Tables whose rows name a unit at a visit, and in which column. */
const AT_A_VISIT = [
  ['pump_set_up', 'pump'],
  ['pump_set_up', 'flow_cell'],
  ['unit_use', 'unit'],
  ['water_level', 'tape'],
  ['sounding', 'tape'],
] as const;

/** The units that visits name, also in records that were voided. */
function ofVisits(visits: string): readonly string[] {
  const purges = `(${each(visits, 'r.id', 'purge', 'r.visit = k.id')})`;
  const ofPlace = (table: string, unit: string, keys: string, place: string) =>
    each(keys, `r.${unit} as id`, table, `r.${place} = k.id and r.${unit} is not null`);
  return [
    ...AT_A_VISIT.map(([table, unit]) => ofPlace(table, unit, visits, 'visit')),
    ofPlace('reading', 'meter', purges, 'purge'),
  ];
}

/** Whether a row of a table names a unit. */
function names(table: string, where: string): string {
  return `exists (select 1 from ${table} r where r.firm = $1 and ${where})`;
}

/** What ever hung in a well and is no tape, or had parts that may have: what was in the wells before matters to it. */
const HANGS = [
  names('pump_set_up', 'r.pump = u.id'),
  names('unit_use', `r.unit = u.id and r.how = 'down-the-well'`),
  `(${names('unit', `r.id = u.id and r.${NO_TAPE}`)} and (${names('water_level', 'r.tape = u.id')} or ${names('sounding', 'r.tape = u.id')}))`,
].join('\n    or ');

/** The parts that were ever on a unit that is near, and the units that they were ever on. */
const SHARING = `select o.unit, near.depth + 1 from near cross join lateral (
    select part from part_change where firm = $1 and unit = near.unit
    union select s.part from (select id from decon where firm = $1 and unit = near.unit offset 0) d cross join lateral (
      select part from decon_step where firm = $1 and decon = d.id and part is not null offset 0) s
  ) p cross join lateral (
    select unit from part_change where firm = $1 and part = p.part
    union select d.unit from (select decon from decon_step where firm = $1 and part = p.part offset 0) s cross join lateral (
      select unit from decon where firm = $1 and id = s.decon offset 0) d
  ) o where o.unit <> near.unit and near.depth < 2`;

/**
 * The units that depend on these records, and those that shared parts with them, by how many shared parts they are away.
 *
 * Values: firm; units; parts; wells; wells with other results; events; units of another type; visits. Gives unit, depth.
 */
export const UNITS_AROUND = `with recursive ${[
  given('parts', 3),
  given('wells', 4),
  given('sampled', 5),
  given('events', 6),
  given('retyped', 7),
  relation(
    'visits(id)',
    'select unnest($8::uuid[])',
    each('wells', 'r.id', 'visit', 'r.well = k.id'),
    each('events', 'r.id', 'visit', 'r.event = k.id'),
    each('retyped', 'r.visit', 'pump_set_up', 'r.pump = k.id'),
    each('retyped', 'r.visit', 'pump_set_up', 'r.flow_cell = k.id'),
    each('retyped', 'r.visit', 'unit_use', 'r.unit = k.id'),
  ),
  relation('sampled_visits', each('sampled', 'r.id', 'visit', 'r.well = k.id')),
  relation('sampled_units(id)', ...ofVisits('sampled_visits')),
  relation(
    'kept_for(id)',
    each('wells', 'r.id', 'part', 'r.dedicated_to = k.id'),
    each('wells', 'r.part', 'part_change', 'r.well = k.id'),
  ),
  relation('all_parts(id)', 'select id from parts', 'select id from kept_for'),
  relation(
    'named(id)',
    'select unnest($2::uuid[])',
    ...ofVisits('visits'),
    `select u.id from sampled_units u where ${HANGS} or ${names('part_change', 'r.unit = u.id')}`,
    each('wells', 'r.id', 'unit', 'r.dedicated_to = k.id'),
    each('all_parts', 'r.unit', 'part_change', 'r.part = k.id'),
    each(`(${each('all_parts', 'r.decon as id', 'decon_step', 'r.part = k.id')})`, 'r.unit', 'decon', 'r.id = k.id'),
    each('events', 'r.unit', 'decon', 'r.event = k.id'),
    each('events', 'r.unit', 'blank', 'r.event = k.id and r.unit is not null'),
    each(`(${each('events', 'r.decon as id', 'blank', 'r.event = k.id')})`, 'r.unit', 'decon', 'r.id = k.id'),
  ),
].join(',\n')},
near(unit, depth) as (
  select id, 0 from named
  union ${SHARING}
)
select unit, min(depth)::int as depth from near where unit is not null group by unit order by unit`;

/** The first and the last of the records that name a unit at each place where it was read now and then. */
function firstAndLast(name: string, table: string, unit: string, place: string): string {
  const next = (key: string, after: string) => `(select r.${place} from ${table} r
    where r.firm = $1 and r.${unit} = ${key}${after} order by r.${place} limit 1)`;
  const end = (direction: string) => `select r.id, r.${place} as place from ${name}_places k cross join lateral (
    select id, ${place} from ${table} where firm = $1 and ${unit} = k.unit and ${place} = k.place and not voided
    order by observed_at ${direction}, id ${direction} limit 1) r where k.place is not null`;
  return `${name}_places(unit, place) as (
  select k.id, ${next('k.id', '')} from units k
  union all select k.unit, ${next('k.unit', ` and r.${place} > k.place`)} from ${name}_places k where k.place is not null
),
${relation(name, end('asc'), end('desc'))}`;
}

/** Everything that units, and what is nearest to them, are judged by. */
const RECORDS = [
  given('units', 2),
  given('touched', 3),
  given('more_wells', 4),
  relation(
    'decons',
    each('units', 'r.id, r.event', 'decon', 'r.unit = k.id'),
    each('touched', 'r.id, r.event', 'decon', 'r.id = k.id'),
  ),
  relation('steps', each('decons', 'r.id, r.part', 'decon_step', 'r.decon = k.id')),
  relation('changes', each('units', 'r.id, r.part, r.well', 'part_change', 'r.unit = k.id')),
  relation(
    'parts(id)',
    'select part from steps where part is not null',
    'select part from changes',
    each('touched', 'r.id', 'part', 'r.id = k.id'),
  ),
  relation('moves', each('parts', 'r.id, r.well', 'part_change', 'r.part = k.id')),
  relation('other_steps', each('parts', 'r.id, r.decon', 'decon_step', 'r.part = k.id')),
  relation(
    'set_ups',
    each('units', 'r.id, r.visit', 'pump_set_up', 'r.pump = k.id'),
    each('units', 'r.id, r.visit', 'pump_set_up', 'r.flow_cell = k.id'),
  ),
  relation('uses', each('units', 'r.id, r.visit', 'unit_use', 'r.unit = k.id')),
  firstAndLast('levels', 'water_level', 'tape', 'visit'),
  firstAndLast('soundings', 'sounding', 'tape', 'visit'),
  firstAndLast('readings', 'reading', 'meter', 'purge'),
  relation('read_in(id)', each('(select distinct place as id from readings)', 'r.visit', 'purge', 'r.id = k.id')),
  relation(
    'visit_ids(id)',
    'select visit from set_ups',
    'select visit from uses',
    'select place from levels',
    'select place from soundings',
    'select id from read_in',
    each('touched', 'r.id', 'visit', 'r.id = k.id'),
  ),
  relation('visits', each('visit_ids', 'r.id, r.well, r.event', 'visit', 'r.id = k.id')),
  relation('purges', each('visits', 'r.id', 'purge', 'r.visit = k.id')),
  relation(
    'blanks',
    each('units', 'r.id, r.event', 'blank', 'r.unit = k.id'),
    each('decons', 'r.id, r.event', 'blank', 'r.decon = k.id'),
    each('touched', 'r.id, r.event', 'blank', 'r.id = k.id'),
  ),
  relation(
    'blank_results',
    each('blanks', 'r.id, r.condition, r.cas_number, r.analyte', 'laboratory_result', 'r.blank = k.id'),
  ),
  relation(
    'found',
    `select cas_number, lower(trim(analyte)) as analyte from blank_results where condition = 'detected'`,
  ),
  relation('samples', each('visits', 'r.id', 'sample', 'r.visit = k.id')),
  relation(
    'sample_results(id)',
    `${each('(select id from samples where exists (select 1 from found))', 'r.id', 'laboratory_result', 'r.sample = k.id')}
    where exists (select 1 from found f where f.cas_number = r.cas_number or f.analyte = lower(trim(r.analyte)))`,
  ),
  relation(
    'hanging(id)',
    'select id from units where id in (select id from touched)',
    `select u.id from units u where ${HANGS}`,
  ),
  relation(
    'ranked_wells(id)',
    'select id from more_wells',
    'select well from visits where exists (select 1 from hanging)',
  ),
  relation('ranked_visits', each('ranked_wells', 'r.id', 'visit', 'r.well = k.id')),
  relation('ranked_samples', each('ranked_visits', 'r.id, r.visit', 'sample', 'r.visit = k.id')),
  relation(
    'ranked_results',
    each('ranked_samples', 'r.id, k.id as sample, k.visit', 'laboratory_result', 'r.sample = k.id'),
  ),
  relation('all_set_ups', each('visits', 'r.id, r.pump, r.flow_cell', 'pump_set_up', 'r.visit = k.id')),
  relation('all_uses', each('visits', 'r.id, r.unit', 'unit_use', 'r.visit = k.id')),
  relation(
    'wanted(id)',
    'select id from units',
    'select id from decons',
    'select id from steps',
    'select id from changes',
    'select id from parts',
    'select id from moves',
    'select id from other_steps',
    'select decon from other_steps',
    'select id from levels',
    'select id from soundings',
    'select id from readings',
    'select id from visits',
    'select id from purges',
    'select id from blanks',
    'select id from blank_results',
    'select id from samples',
    'select id from sample_results',
    'select unnest(array[id, sample, visit]) from ranked_results',
    'select unnest(array[id, pump, flow_cell]) from all_set_ups',
    'select unnest(array[id, unit]) from all_uses',
    'select well from visits',
    'select id from more_wells',
    'select well from changes',
    'select well from moves',
    'select event from visits',
    'select event from decons',
    'select event from blanks',
    each('units', 'r.dedicated_to', 'unit', 'r.id = k.id'),
    each('parts', 'r.dedicated_to', 'part', 'r.id = k.id'),
    each('units', 'r.id', 'unit_service', 'r.unit = k.id'),
    each('units', 'r.id', 'sign_out', 'r.unit = k.id'),
    each('units', 'r.id', 'calibration_check', 'r.unit = k.id'),
    each('units', 'r.id', 'calibration_check', 'r.unit = k.id'),
    each('purges', 'r.id', 'occurrence', `r.purge = k.id and r.type in (${TELLING})`),
  ),
];

/**
 * The records by which units are judged, in no order: their own, those of the visits that they were in, of the parts that
 * were on them, and what laboratories found. Of what is read now and then in a visit, the first and the last.
 *
 * Values: firm; units, with those that share parts; records that are changed in this transaction; wells that are named
 * anew in it. Gives feed, parent, visit, state.
 */
export const UNIT_RECORDS = `with recursive ${RECORDS.join(',\n')}
select h.feed, h.parent, h.visit, l.state from wanted w
cross join lateral (select feed, parent, visit, seq from head where firm = $1 and not gone and id = w.id offset 0) h
cross join lateral (select state from ledger where firm = $1 and feed = h.feed and seq = h.seq offset 0) l`;

/**
 * The same records by id and row hash, 24 bytes each in one value, for whoever may have their states already.
 *
 * Values as above. Gives keys.
 */
export const UNIT_RECORD_KEYS = `with recursive ${RECORDS.join(',\n')}
select string_agg(uuid_send(w.id) || h.row_hash, ''::bytea) as keys from wanted w
cross join lateral (select row_hash from head where firm = $1 and not gone and id = w.id offset 0) h`;
