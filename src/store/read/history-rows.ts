import type { LedgerFact } from '../../rules/record-history/history-entry.ts';
import type { HistoryKey } from '../../rules/record-history/in-one-order.ts';
import { CAPTURED_CLOCK } from './captured-clock.ts';
import type { ReadTx } from './transaction.ts';

/** Every feed that has a row about one of these records. */
export async function feedsOfRecords(tx: ReadTx, records: readonly string[]): Promise<string[]> {
  const { rows } = await tx.client.query<{ feed: string }>({
    name: 'feeds-of-records',
    text: `select distinct l.feed from (select distinct id from unnest($2::uuid[]) as w(id)) as wanted
cross join lateral (select feed from ledger where firm = $1 and record = wanted.id offset 0) l order by l.feed`,
    values: [tx.firm, records],
  });
  return rows.map(({ feed }) => feed);
}

/** Where the rows about these records stand in a feed, in its order, from after a place on. */
export async function historyKeys(
  tx: ReadTx,
  records: readonly string[],
  feed: string,
  after: number,
  limit: number,
): Promise<HistoryKey[]> {
  const { rows } = await tx.client.query<HistoryKey>({
    name: 'history-keys',
    text: `select l.feed, l.seq, l.record, l.rev, (extract(epoch from l.received_at) * 1000)::float8 as "atMs"
from (select distinct id from unnest($2::uuid[]) as w(id)) as wanted
cross join lateral (
  select feed, seq, record, rev, received_at from ledger
  where firm = $1 and record = wanted.id and seq > $4 and feed = $3 offset 0
) l order by l.seq limit $5`,
    values: [tx.firm, records, feed, after, limit],
  });
  return rows;
}

interface Row extends Omit<LedgerFact, 'receivedAt'> {
  readonly receivedAt: Date | string;
}

/** The rows at these places, in their order, each with the history hash of the row before it in its feed. */
export async function historyRows(tx: ReadTx, keys: readonly HistoryKey[]): Promise<LedgerFact[]> {
  const { rows } = await tx.client.query<Row>({
    name: 'history-rows',
    text: `select k.feed, k.seq, l.kind, l.record as id, l.rev, l.received_at as "receivedAt", l.client, l.mutation,
  ${CAPTURED_CLOCK} as clock, l.intent ->> 'resolution' as decision, l.state::text as text, encode(l.history_hash, 'hex') as "historyHash",
  coalesce(encode(b.history_hash, 'hex'), repeat('0', 64)) as "historyHashBefore"
from unnest($2::text[], $3::bigint[]) with ordinality as k(feed, seq, place)
cross join lateral (select * from ledger where firm = $1 and feed = k.feed and seq = k.seq offset 0) l
left join lateral (
  select history_hash from ledger where firm = $1 and feed = k.feed and seq = k.seq - 1 offset 0
) b on true
order by k.place`,
    values: [tx.firm, keys.map(({ feed }) => feed), keys.map(({ seq }) => seq)],
  });
  return rows.map((row) => ({ ...row, receivedAt: new Date(row.receivedAt).toISOString() }));
}

/** Every record that belongs, or belonged when it was last written, to a visit. */
export async function everOfVisit(tx: ReadTx, visit: string): Promise<{ id: string; kind: string }[]> {
  const { rows } = await tx.client.query<{ id: string; kind: string }>({
    name: 'ever-of-visit',
    text: 'select distinct id, kind from head where firm = $1 and visit = $2 order by id',
    values: [tx.firm, visit],
  });
  return rows;
}

/** The fields that later changes of these records gave, by record. A conflict over a field needs one. */
export async function changedFields(tx: ReadTx, records: readonly string[]): Promise<ReadonlyMap<string, string[]>> {
  const { rows } = await tx.client.query<{ id: string; fields: string[] }>({
    name: 'changed-fields',
    text: `select wanted.id, array_agg(distinct given.field) as fields
from (select distinct id from unnest($2::uuid[]) as w(id)) as wanted
cross join lateral (
  select intent -> 'set' as given from ledger where firm = $1 and record = wanted.id and intent is not null offset 0
) l cross join lateral json_object_keys(l.given) as given(field)
group by wanted.id`,
    values: [tx.firm, records],
  });
  return new Map(rows.map(({ id, fields }) => [id, fields]));
}

/**
 * Every flag that was ever raised about one of these records in one of these feeds, also where nobody is told of it any
 * more: a flag about equipment is known by more than its rule and its subject, and a rule may have gone since.
 */
export async function flagsEverAbout(
  tx: ReadTx,
  feeds: readonly string[],
  subjects: readonly string[],
): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'flags-ever-about',
    text: `select distinct l.id from unnest($2::text[]) as wanted(feed)
cross join lateral (
  select record as id, state -> 'fields' ->> 'subject' as subject from ledger
  where firm = $1 and feed = wanted.feed and kind = 'flag' and state is not null offset 0
) l where l.subject = any($3::text[]) order by l.id`,
    values: [tx.firm, feeds, subjects],
  });
  return rows.map(({ id }) => id);
}

/** The conflicts about a record, and what people decided about them. */
export async function conflictsUnder(tx: ReadTx, record: string): Promise<string[]> {
  const { rows } = await tx.client.query<{ id: string }>({
    name: 'conflicts-under',
    text: `select distinct id from head where firm = $1 and parent = $2 and kind in ('conflict', 'resolution')
order by id`,
    values: [tx.firm, record],
  });
  return rows.map(({ id }) => id);
}

/** The device whose token first used each client id; clients of no device are left out. */
export async function devicesOfClients(tx: ReadTx, clients: readonly string[]): Promise<ReadonlyMap<string, string>> {
  const { rows } = await tx.client.query<{ id: string; device: string }>({
    name: 'devices-of-clients',
    text: `select c.id, t.device from client c join token t on t.firm = c.firm and t.id = c.token
where c.firm = $1 and c.id = any($2) and t.device is not null`,
    values: [tx.firm, clients],
  });
  return new Map(rows.map(({ id, device }) => [id, device]));
}
