import { type CustodyTold, custodyTold } from '../../rules/custody/custody-told.ts';
import { type ConflictRecord, packedTwice } from '../../rules/custody/packed-twice.ts';
import { feedStates } from '../../store/read/feed-states.ts';
import { inRead, type ReadTx } from '../../store/read/transaction.ts';
import { feedsInSight } from '../feeds-in-sight.ts';
import type { ReadContext } from '../read-context.ts';
import type { Reader } from '../reader.ts';
import { loadCooler } from './load-cooler.ts';

/**
 * Who has a cooler, who had it from when until when, what is in it and what was received of it.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for a cooler that is not there or that the reader does not see
 */
export async function coolerCustody(
  tx: ReadTx,
  feeds: readonly string[] | null,
  id: string,
  { now }: { readonly now: string },
): Promise<CustodyTold> {
  const { facts, of, people, former, writers, contents } = await loadCooler(tx, feeds, id);
  // what was stored has the shape of its kind
  const conflicts = (await feedStates(tx, [`event:${of.event.id}`], ['conflict'])) as unknown as ConflictRecord[];
  const twice = packedTwice(id, conflicts, of, people.names);
  return custodyTold(facts, { former, contents: contents.changes, writers, twice, now });
}

export function readCoolerCustody(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  id: string,
  asked: { readonly now: string },
): Promise<CustodyTold> {
  return inRead(pool, reader.firm, async (tx) => coolerCustody(tx, await feedsInSight(tx, reader), id, asked));
}
