import type { PageBounds, Place } from './record-pages.ts';
import type { ReadTx } from './transaction.ts';

/** A mutation that was not applied, as it came. */
export interface SetAsideRow {
  readonly id: string;
  readonly client: string;
  readonly mutation: number;
  readonly role: string;
  readonly person: string | null;
  readonly raw: Buffer;
  readonly outcome: 'set_aside' | 'refused';
  readonly code: string;
  readonly detail: string;
  readonly waitsFor: string[];
  readonly standing: 'waiting' | 'released' | 'kept';
  readonly receivedAt: string;
}

const COLUMNS = `id, client, mutation, role, person, raw, outcome, code, detail, waits_for as "waitsFor", standing,
  received_at as "receivedAt"`;

function placed(place: Place | null): [string | null, string | null] {
  return place === null ? [null, null] : [place.key, place.id];
}

/**
 * A page of what was set aside, oldest first; from the end backwards where the bounds say so.
 *
 * @param standing only those that stand so; null for all
 */
export async function setAsideRows(tx: ReadTx, standing: string | null, bounds: PageBounds): Promise<SetAsideRow[]> {
  const direction = bounds.backward ? 'desc' : 'asc';
  const { rows } = await tx.client.query<SetAsideRow>({
    name: `set-aside-rows-${direction}`,
    text: `select ${COLUMNS} from set_aside
where firm = $1 and ($2::text is null or standing = $2)
  and ($3::timestamptz is null or (received_at, id) > ($3, $4::uuid))
  and ($5::timestamptz is null or (received_at, id) < ($5, $6::uuid))
order by received_at ${direction}, id ${direction} limit $7`,
    values: [tx.firm, standing, ...placed(bounds.after), ...placed(bounds.before), bounds.limit],
  });
  return rows;
}

export async function setAsideRow(tx: ReadTx, id: string): Promise<SetAsideRow | null> {
  const { rows } = await tx.client.query<SetAsideRow>({
    name: 'set-aside-row',
    text: `select ${COLUMNS} from set_aside where firm = $1 and id = $2`,
    values: [tx.firm, id],
  });
  return rows[0] ?? null;
}

export async function setAsideCount(tx: ReadTx, standing: string | null): Promise<number> {
  const { rows } = await tx.client.query<{ count: number }>({
    name: 'set-aside-count',
    text: 'select count(*) as count from set_aside where firm = $1 and ($2::text is null or standing = $2)',
    values: [tx.firm, standing],
  });
  return rows[0]?.count ?? 0;
}
