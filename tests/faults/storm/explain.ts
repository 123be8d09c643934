import { FIRM } from '../../sim/base-firm.ts';
import type { StormWorld } from './world.ts';

const UUID = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g;

interface Row {
  readonly record: string;
  readonly text: string;
  readonly subject: string | null;
}

/** Of the records that the findings name: what people did to them, and what the ledger has. A storm comes only once. */
export async function explained({ findings, history, options }: StormWorld): Promise<string> {
  const named = new Set(findings.list.slice(0, 5).flatMap(({ detail }) => detail.match(UUID) ?? []));
  const query = `select record, state->'fields'->>'subject' as subject,
      concat_ws(' ', feed, seq, kind, record, rev, client, mutation, received_at, state::text) as text
    from ledger where firm = $1 and (record = any($2) or state->'fields'->>'subject' = any($3))
    order by received_at, feed, seq`;
  const ask = async () => (await options.db.bypass.query<Row>(query, [FIRM, [...named], [...named]])).rows;
  for (const { subject } of await ask()) if (subject !== null) named.add(subject);
  const did = history.all().filter(({ id }) => named.has(id));
  const captures = did.map(({ order, phone, seen, told, line }) => JSON.stringify({ order, phone, seen, told, line }));
  const rows = (await ask()).map(({ text }) => text);
  return [...findings.list.map((one) => JSON.stringify(one)), ...captures, ...rows].join('\n');
}
