import type { Code } from '../../protocol/codes.ts';
import type { ReadTx } from './transaction.ts';

/** A line that a newer version wrote and that could not be read when it came. */
export interface NewerSetAside {
  readonly id: string;
  readonly raw: Buffer;
  readonly schemaVersion: number | null;
}

const CODE: Code = 'newer_server_needed';

/** Those that were not applied since, in the order in which they came. */
export async function newerSetAside(tx: ReadTx): Promise<NewerSetAside[]> {
  const { rows } = await tx.client.query<NewerSetAside>({
    name: 'newer-set-aside',
    text: `select id, raw, schema_version as "schemaVersion" from set_aside
where firm = $1 and code = $2 and standing <> 'released' order by received_at, client, mutation`,
    values: [tx.firm, CODE],
  });
  return rows;
}
