import type { CustodyRecord } from '../../documents/custody/custody-facts.ts';
import { inRead } from '../../store/read/transaction.ts';
import { feedsInSight } from '../feeds-in-sight.ts';
import type { ReadContext } from '../read-context.ts';
import type { Reader } from '../reader.ts';
import { custodyRecord } from './custody-record.ts';
import { loadCooler } from './load-cooler.ts';

/**
 * The custody record of a cooler.
 *
 * @param madeAt when this copy of it is made
 * @throws Problem `record_missing` for a cooler that is not there or that the reader does not see
 */
export function readCustodyRecord(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  cooler: string,
  madeAt: string,
): Promise<CustodyRecord> {
  return inRead(pool, reader.firm, async (tx) =>
    custodyRecord(await loadCooler(tx, await feedsInSight(tx, reader), cooler), madeAt),
  );
}
