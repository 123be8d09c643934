import type { RecordState, StampedClock } from '../../protocol/record.ts';
import { CAPTURED_CLOCK } from './captured-clock.ts';
import type { ReadTx } from './transaction.ts';

/** A change of a container. */
export interface ContainerRow {
  readonly id: string;
  /** Null where it left the feed. */
  readonly state: RecordState | null;
  readonly receivedAt: Date | string;
  /** Of the device, when it captured this change; null where that is not known. */
  readonly clock: StampedClock | null;
}

/** Every change of every container that ever was in a cooler, in the order of the feed. */
export async function contentsHistory(tx: ReadTx, feed: string, cooler: string): Promise<ContainerRow[]> {
  const { rows } = await tx.client.query<ContainerRow>({
    name: 'contents-history',
    text: `select l.record as id, l.state, l.received_at as "receivedAt",
  ${CAPTURED_CLOCK} as clock
from (
  select distinct h.id from head h cross join lateral (
    select state -> 'fields' ->> 'cooler' as cooler from ledger
    where firm = $1 and record = h.id and feed = $2 and state is not null offset 0
  ) was where h.firm = $1 and h.feed = $2 and h.kind = 'container' and was.cooler = $3
) ever
cross join lateral (
  select record, rev, seq, state, intent, received_at from ledger where firm = $1 and record = ever.id and feed = $2 offset 0
) l order by l.seq`,
    values: [tx.firm, feed, cooler],
  });
  return rows;
}
