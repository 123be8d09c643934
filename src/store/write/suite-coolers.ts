import type { WriteTx } from './transaction.ts';

/** A group of analytes that a suite sends elsewhere now. */
export interface SentAnew {
  /** Name of the suite. */
  readonly suite: string;
  /** Null where it may be any, as where there is a suite of that name now and was none. */
  readonly group: string | null;
}

const IN_COOLER = `cooler is not null and (wanted.sent is null or "group" = wanted.sent)`;

/**
 * The coolers with a laboratory that hold a container for what is sent elsewhere, by its own suite or by one of what it is
 * of; as they are stored. Those without a laboratory are asked nothing.
 */
export async function suiteCoolers(tx: WriteTx, sent: readonly SentAnew[]): Promise<string[]> {
  const { rows } = await tx.client.query<{ cooler: string }>({
    name: 'suite-coolers',
    text: `with wanted as (select * from unnest($2::text[], $3::text[]) as w(name, sent))
select distinct near.cooler from (
  select c.cooler from wanted cross join lateral (
    select cooler from container where firm = $1 and suite = wanted.name and ${IN_COOLER} offset 0
  ) c
  union all
  select c.cooler from wanted join sample s on s.firm = $1 and wanted.name = any(s.suites)
  cross join lateral (select cooler from container where firm = $1 and sample = s.id and ${IN_COOLER} offset 0) c
  union all
  select c.cooler from wanted join blank b on b.firm = $1 and wanted.name = any(b.suites)
  cross join lateral (select cooler from container where firm = $1 and blank = b.id and ${IN_COOLER} offset 0) c
  union all
  select c.cooler from wanted join planned_sample p on p.firm = $1 and wanted.name = any(p.suites)
  cross join lateral (select cooler from container where firm = $1 and planned = p.id and ${IN_COOLER} offset 0) c
) near
cross join lateral (select id from cooler where firm = $1 and id = near.cooler and laboratory is not null offset 0) k`,
    values: [tx.firm, sent.map(({ suite }) => suite), sent.map(({ group }) => group)],
  });
  return rows.map(({ cooler }) => cooler);
}
