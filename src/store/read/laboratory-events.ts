import type { ReadTx } from './transaction.ts';

/** An event that concerns a laboratory. */
export interface LaboratoryEvent {
  readonly id: string;
  readonly name: string;
  readonly site: string | null;
  readonly starts: string;
  readonly ends: string;
  readonly standing: string;
}

/**
 * A laboratory is concerned where a planned sample, a sample, a blank or a cooler names it, where the plan or one of the
 * suites in use does, and where it is the only one of the firm and something is planned or packed. The one place that says so.
 */
const CONCERNED = `with its_suites as (
  select coalesce(array_agg(name), '{}') as names from analyte_suite
  where firm = $1 and not voided and groups @> jsonb_build_array(jsonb_build_object('laboratory', $2::uuid::text))
), only_one as (select count(*) = 1 as yes from laboratory where firm = $1 and not voided)
select e.id, e.name, s.name as site, e.starts::text, e.ends::text, e.standing
from event e left join site s on s.firm = e.firm and s.id = e.site, its_suites, only_one
where e.firm = $1 and not e.voided and ($3::uuid is null or e.id = $3)
  and exists (select from laboratory l where l.firm = $1 and l.id = $2::uuid and not l.voided)
  and (
    jsonb_path_exists(e.plan, '$.sampling.laboratoryOf[*].laboratory ? (@ == $its)', jsonb_build_object('its', $2::uuid::text))
    or jsonb_path_exists(e.plan, '$.sampling.wells[*].splitWith ? (@ == $its)', jsonb_build_object('its', $2::uuid::text))
    or exists (
      select from planned_sample p where p.firm = $1 and p.event = e.id and not p.voided
        and (p.laboratory = $2::uuid or p.suites && its_suites.names or only_one.yes))
    or exists (
      select from cooler c where c.firm = $1 and c.event = e.id and not c.voided and (c.laboratory = $2::uuid or only_one.yes))
    or exists (select from blank b where b.firm = $1 and b.event = e.id and not b.voided and b.laboratory = $2::uuid)
    or exists (
      select from visit v join sample m on m.firm = v.firm and m.visit = v.id
      where v.firm = $1 and v.event = e.id and not m.voided and m.laboratory = $2::uuid)
    or exists (
      select from container t where t.firm = $1 and t.event = e.id and not t.voided and t.suite = any(its_suites.names))
    or exists (
      select from assignment a where a.firm = $1 and a.event = e.id and not a.voided and a.suites && its_suites.names)
  )
order by e.starts desc, e.id`;

/** @param event only this one; null for all */
export async function laboratoryEvents(
  tx: ReadTx,
  laboratory: string,
  event: string | null,
): Promise<LaboratoryEvent[]> {
  const values = [tx.firm, laboratory, event];
  return (await tx.client.query<LaboratoryEvent>({ name: 'laboratory-events', text: CONCERNED, values })).rows;
}
