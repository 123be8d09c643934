import type { KindDefinition } from '../protocol/kind.ts';
import { Problem } from '../protocol/problem.ts';
import { recordById, type StoredRecord } from '../store/read/records.ts';
import type { RecordsTx } from '../store/records.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { visibleFeeds } from './visible-feeds.ts';

/** The same for what is not there, of another firm, of another kind, or in a feed that the reader does not follow. */
function missing(kind: KindDefinition, id: string): Problem {
  return new Problem('record_missing', `no ${kind.name} ${id} is among the records that you may read`);
}

export async function visibleRecord(
  tx: RecordsTx,
  feeds: readonly string[] | null,
  kind: KindDefinition,
  id: string,
): Promise<StoredRecord> {
  const record = await recordById(tx, id);
  if (record?.state.kind !== kind.name) throw missing(kind, id);
  if (feeds !== null && !feeds.includes(record.feed)) throw missing(kind, id);
  return record;
}

/**
 * A record as it stands now.
 *
 * @throws Problem `record_missing`
 */
export async function oneRecord(
  ctx: ReadContext,
  reader: Reader,
  kind: KindDefinition,
  id: string,
): Promise<StoredRecord> {
  const feeds = await visibleFeeds(ctx, reader);
  return ctx.records.read(reader.firm, (tx) => visibleRecord(tx, feeds, kind, id));
}
