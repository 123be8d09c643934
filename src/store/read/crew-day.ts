import type { ReadTx } from './transaction.ts';

export interface CrewDayAsked {
  readonly event: string;
  readonly crew: string;
  readonly from: string;
  readonly until: string;
}

/** How a visit ended. */
export interface EndedVisit {
  readonly method: string;
  readonly outcome: string | null;
}

/** A well that a crew has to do. */
export interface AssignedWell {
  readonly well: string;
  readonly name: string;
  readonly assignedClass: string | null;
  /** Units that stay in this well. */
  readonly dedicated: readonly string[];
  /** The pump with which the crew claimed it, if it did. */
  readonly claimed: string | null;
  /** Samples are expected, not only a level. */
  readonly toSample: boolean;
  /** An assignment names it; else it is one of those of the site that no other crew has. */
  readonly isNamed: boolean;
  /** Visits of this event that the crews have left. */
  readonly ended: readonly EndedVisit[];
}

/**
 * The wells that are assigned to a crew. One whose assignments name no well works in the event for all wells of its site
 * that no other crew has, by an assignment or by a claim that stands.
 */
export async function assignedWells(tx: ReadTx, { event, crew }: CrewDayAsked): Promise<AssignedWell[]> {
  const { rows } = await tx.client.query<AssignedWell>({
    name: 'assigned-wells',
    text: `with own as materialized (
  select well, coalesce(cardinality(suites), 0) > 0 as "toSample" from assignment
  where firm = $1 and event = $2 and crew = $3 and not voided
), wells as (
  select well, bool_or("toSample") as "toSample", true as "isNamed" from own where well is not null group by well
  union all
  select w.id, (select bool_or("toSample") from own), false
  from event e join well w on w.firm = $1 and w.site = e.site and w.standing is distinct from 'decommissioned'
  where e.firm = $1 and e.id = $2 and exists (select 1 from own) and not exists (select 1 from own where well is not null)
    and not exists (select 1 from assignment o where o.firm = $1 and o.event = $2 and o.well = w.id and o.crew <> $3 and not o.voided)
    and not exists (select 1 from well_claim c where c.firm = $1 and c.event = $2 and c.well = w.id and c.crew <> $3
      and c."until" is null and not c.voided)
)
select w.id as well, w.name, w.assigned_class as "assignedClass",
  array(select u.id from unit u where u.firm = $1 and u.dedicated_to = w.id and not u.voided order by u.id)::text[] as dedicated,
  (select c.pump from well_claim c where c.firm = $1 and c.event = $2 and c.well = w.id and c.crew = $3 and not c.voided
    order by c."from" desc, c.id limit 1) as claimed,
  a."toSample", a."isNamed",
  (select coalesce(json_agg(json_build_object('method', v.method, 'outcome', v.outcome)), '[]') from visit v
    where v.firm = $1 and v.event = $2 and v.well = w.id and v."left" is not null and not v.voided) as ended
from wells a join well w on w.firm = $1 and w.id = a.well and not w.voided
order by w.name, w.id`,
    values: [tx.firm, event, crew],
  });
  return rows;
}

/** A well that a crew went to, with what went down it. */
export interface VisitedWell {
  readonly visit: string;
  readonly well: string;
  readonly name: string;
  readonly assignedClass: string | null;
  readonly arrived: Date;
  /** The crew is still there. */
  readonly isOpen: boolean;
  readonly units: readonly string[];
}

/** The wells of a crew on a day in the order in which it came there. */
export async function visitedWells(tx: ReadTx, asked: CrewDayAsked): Promise<VisitedWell[]> {
  const { rows } = await tx.client.query<VisitedWell>({
    name: 'visited-wells',
    text: `select v.id as visit, w.id as well, w.name, w.assigned_class as "assignedClass", v.arrived, v."left" is null as "isOpen",
  array(select p.pump from pump_set_up p where p.firm = $1 and p.visit = v.id and not p.voided
    union select u.unit from unit_use u where u.firm = $1 and u.visit = v.id and u.how = 'down-the-well' and not u.voided
    order by 1)::text[] as units
from visit v join well w on w.firm = $1 and w.id = v.well
where v.firm = $1 and v.event = $2 and v.crew = $3 and v.arrived >= $4 and v.arrived < $5 and not v.voided
order by v.arrived, v.id`,
    values: [tx.firm, asked.event, asked.crew, asked.from, asked.until],
  });
  return rows;
}

export interface BlankOfDay {
  readonly unit: string;
  readonly collected: Date;
  readonly results: readonly { readonly condition: string; readonly value: string | null }[];
}

/** The blanks that were taken through these units on a day, by whomever. */
export async function blanksOfDay(
  tx: ReadTx,
  units: readonly string[],
  { from, until }: Pick<CrewDayAsked, 'from' | 'until'>,
): Promise<BlankOfDay[]> {
  const { rows } = await tx.client.query<BlankOfDay>({
    name: 'blanks-of-units',
    text: `select b.unit, b.collected,
  (select coalesce(json_agg(json_build_object('condition', r.condition, 'value', r.value::text)), '[]') from laboratory_result r
    where r.firm = $1 and r.blank = b.id and not r.voided) as results
from unnest($2::uuid[]) as u(id)
cross join lateral (select id, unit, collected from blank where firm = $1 and unit = u.id
  and collected >= $3 and collected < $4 and "type" = 'equipment' and not voided offset 0) b
order by b.id`,
    values: [tx.firm, units, from, until],
  });
  return rows;
}

export interface CarriedUnit {
  readonly id: string;
  readonly label: string;
  readonly type: string;
  readonly use: string;
}

/** The units that a crew has on a day. */
export async function carriedUnits(tx: ReadTx, { crew, from, until }: CrewDayAsked): Promise<CarriedUnit[]> {
  const { rows } = await tx.client.query<CarriedUnit>({
    name: 'carried-units',
    text: `select u.id, u.label, u.type, u.use from (
  select distinct unit from sign_out
  where firm = $1 and crew = $2 and not voided and "from" < $4 and ("until" is null or "until" >= $3)
) s join unit u on u.firm = $1 and u.id = s.unit and not u.voided order by u.label, u.id`,
    values: [tx.firm, crew, from, until],
  });
  return rows;
}

/** The units of these ids, of whomever. */
export async function namedUnits(tx: ReadTx, units: readonly string[]): Promise<CarriedUnit[]> {
  const { rows } = await tx.client.query<CarriedUnit>({
    name: 'named-units',
    text: `select u.id, u.label, u.type, u.use from unit u
where u.firm = $1 and u.id = any($2::uuid[]) and not u.voided order by u.label, u.id`,
    values: [tx.firm, units],
  });
  return rows;
}

export interface LastResultRow {
  readonly well: string;
  readonly analyte: string;
  readonly casNumber: string | null;
  readonly value: string | null;
  readonly unit: string;
  readonly reportingLimit: string | null;
  readonly condition: string;
}

/** Visits of a well that are looked through for its last results. */
const MOST_VISITS = 10;

/** Of each analyte the results of the last visit before a moment that was asked for it. */
export async function lastResults(tx: ReadTx, wells: readonly string[], before: string): Promise<LastResultRow[]> {
  const { rows } = await tx.client.query<LastResultRow>({
    name: 'last-results-of-wells',
    text: `select w.id as well, r.analyte, r.cas_number as "casNumber", r.value::text as value, r.unit,
  r.reporting_limit::text as "reportingLimit", r.condition
from unnest($2::uuid[]) as w(id)
cross join lateral (
  select r.*, rank() over (partition by coalesce(r.cas_number, lower(btrim(r.analyte))) order by v.arrived desc, v.id desc) as place
  from (
    select id, arrived from visit where firm = $1 and well = w.id and arrived < $3 and not voided
    order by arrived desc, id desc limit $4
  ) v
  cross join lateral (select id from sample where firm = $1 and visit = v.id and not voided offset 0) s
  cross join lateral (
    select id, analyte, cas_number, value, unit, reporting_limit, condition from laboratory_result
    where firm = $1 and sample = s.id and condition <> 'not-reported' and not voided offset 0
  ) r
) r
where r.place = 1 order by w.id, r.id`,
    values: [tx.firm, wells, before, MOST_VISITS],
  });
  return rows;
}
