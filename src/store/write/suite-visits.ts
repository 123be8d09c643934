import type { WriteTx } from './transaction.ts';

/** What an analyte suite asks for otherwise now. */
export interface AskedAnew {
  /** Of the suite. */
  readonly name: string;
  /** Of analytes; null where it may be any, as where there is a suite of that name now and was none. */
  readonly group: string | null;
}

const SERVES = `(wanted.asked is null or "group" = wanted.asked or wanted.asked = any(also_groups))`;
const OF_NO_HOLDER = 'sample is null and blank is null';

/**
 * The visits with a sample that has a container for what is asked otherwise, by its own suite or by one of its sample's;
 * only their ids, since all that belongs to them is loaded after.
 */
export async function suiteVisits(tx: WriteTx, asked: readonly AskedAnew[]): Promise<string[]> {
  const { rows } = await tx.client.query<{ visit: string }>({
    name: 'suite-visits',
    text: `with wanted as (select * from unnest($2::text[], $3::text[]) as w(name, asked))
select distinct visit from (
  select s.visit from wanted join sample s on s.firm = $1 and wanted.name = any(s.suites)
  where wanted.asked is null
  or exists (select from container where firm = $1 and sample = s.id and ${SERVES})
  or exists (select from container where firm = $1 and planned = s.planned and ${OF_NO_HOLDER} and ${SERVES})
  union all
  select s.visit from wanted cross join lateral (
    select sample from container where firm = $1 and suite = wanted.name and sample is not null and ${SERVES} offset 0
  ) c
  cross join lateral (select visit from sample where firm = $1 and id = c.sample offset 0) s
  union all
  select s.visit from wanted cross join lateral (
    select planned from container
    where firm = $1 and suite = wanted.name and planned is not null and ${OF_NO_HOLDER} and ${SERVES} offset 0
  ) c
  cross join lateral (select visit from sample where firm = $1 and planned = c.planned offset 0) s
) judged where visit is not null`,
    values: [tx.firm, asked.map(({ name }) => name), asked.map(({ group }) => group)],
  });
  return rows.map(({ visit }) => visit);
}
