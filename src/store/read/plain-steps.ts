import type { ReadTx } from './transaction.ts';

/** A step of a cleaning, without who wrote it and by which clock; times in UTC. */
export type PlainStepRow = readonly [
  id: string,
  decon: string,
  step: string,
  done: boolean,
  fluid: string | null,
  lot: string | null,
  deviation: string | null,
  observedAt: string,
];

/**
 * The steps of the decons of these units of which it is enough to know that they were done: not those that put a part in,
 * nor those that say when a decon without an end was over. They are the most of all that is recorded of a unit; read from
 * their columns they take a fifth of what it takes to look up and parse what is told of each.
 *
 * @param partSteps steps that replace a part in some protocol
 * @param since of decons that began from then on; null for all
 */
export async function plainSteps(
  tx: ReadTx,
  units: readonly string[],
  partSteps: readonly string[],
  since: string | null = null,
): Promise<readonly PlainStepRow[]> {
  const { rows } = await tx.client.query<{ steps: readonly PlainStepRow[] | null }>({
    name: 'plain-steps',
    text: `select json_agg(json_build_array(s.id, s.decon, s.step, s.done, s.fluid, s.lot, s.deviation,
  s.observed_at)) as steps
from unnest($2::uuid[]) as u(id)
cross join lateral (
  select id from decon where firm = $1 and unit = u.id and ended is not null and not voided
    and ($4::timestamptz is null or began >= $4) offset 0
) d
cross join lateral (
  select * from decon_step
  where firm = $1 and decon = d.id and part is null and not step = any($3) and not voided offset 0
) s`,
    values: [tx.firm, units, partSteps, since],
  });
  return rows[0]?.steps ?? [];
}
