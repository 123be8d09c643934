import { NIL } from 'uuid';
import type { Code } from '../../protocol/codes.ts';
import type { ReadTx } from './transaction.ts';

/** A line that could not be read when it came, since a newer version wrote it, or that a server failed on. */
export interface NewerSetAside {
  readonly id: string;
  readonly client: string;
  readonly mutation: number;
  /** As the database writes it, to the microsecond: it is where the next part goes on. */
  readonly receivedAt: string;
  readonly raw: Buffer;
  readonly schemaVersion: number | null;
}

export interface NewerAsked {
  /** Those that this version of the shapes, or a later one, has tried are left out. */
  readonly version: number;
  readonly after: Pick<NewerSetAside, 'receivedAt' | 'client' | 'mutation'> | null;
  readonly limit: number;
}

const CODES: readonly Code[] = ['newer_server_needed', 'server_failed'];

/** As the index says it. */
const IS_TRIED_AGAIN = `code in (${CODES.map((code) => `'${code}'`).join(', ')})`;

/** Before all that ever came. */
const START = { receivedAt: '-infinity', client: NIL, mutation: 0 };

/**
 * Of those that were not applied since, the next in the order in which they came. Looked up version by version, each by the
 * index that holds nothing else; the texts are read of those alone that are given.
 */
export async function newerSetAside(tx: ReadTx, { version, after, limit }: NewerAsked): Promise<NewerSetAside[]> {
  const { receivedAt, client, mutation } = after ?? START;
  const { rows } = await tx.client.query<NewerSetAside>({
    name: 'newer-set-aside',
    text: `with next as (
  select n.* from generate_series(0, $2::int - 1) as tried(version) cross join lateral (
    select id, client, mutation, received_at from set_aside
    where firm = $1 and ${IS_TRIED_AGAIN} and standing <> 'released' and tried_version = tried.version
      and (received_at, client, mutation) > ($3::timestamptz, $4::uuid, $5::bigint)
    order by received_at, client, mutation limit $6
  ) n order by n.received_at, n.client, n.mutation limit $6
)
select n.id, n.client, n.mutation, n.received_at as "receivedAt", s.raw, s.schema_version as "schemaVersion"
from next n cross join lateral (select raw, schema_version from set_aside where firm = $1 and id = n.id offset 0) s
order by n.received_at, n.client, n.mutation`,
    values: [tx.firm, version, receivedAt, client, mutation, limit],
  });
  return rows;
}

/** Any one of those, by chance; null where there is none. @param chance from 0 to below 1 */
export async function anyNewerSetAside(
  tx: ReadTx,
  { version, chance }: { readonly version: number; readonly chance: number },
): Promise<NewerAsked['after']> {
  const { rows } = await tx.client.query<NonNullable<NewerAsked['after']>>({
    name: 'any-newer-set-aside',
    text: `with waiting as (
  select s.*, row_number() over (order by s.received_at, s.client, s.mutation) as place, count(*) over () as total
  from generate_series(0, $2::int - 1) as tried(version) cross join lateral (
    select client, mutation, received_at from set_aside
    where firm = $1 and ${IS_TRIED_AGAIN} and standing <> 'released' and tried_version = tried.version
  ) s
)
select client, mutation, received_at as "receivedAt" from waiting where place = floor($3::float8 * total) + 1`,
    values: [tx.firm, version, chance],
  });
  return rows[0] ?? null;
}

/** Which of these are still not applied. */
export async function notReleased(tx: ReadTx, ids: readonly string[]): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'not-released',
    text: `select w.id from unnest($2::uuid[]) with ordinality as w(id, place) cross join lateral (
  select standing from set_aside where firm = $1 and id = w.id offset 0
) s where s.standing <> 'released' order by w.place`,
    values: [tx.firm, ids],
  });
  return rows.map(({ id }) => id);
}
