import type { RecordState } from '../../protocol/record.ts';
import { uuidArray } from './array-parameter.ts';
import type { WriteTx } from './transaction.ts';

/** A state of a record, and when it was taken, in UTC. */
export interface DatedState {
  readonly record: string;
  readonly state: RecordState;
  readonly at: string;
}

/** Every state that these records ever had, each record in the order of its changes. */
export async function datedStates(tx: WriteTx, ids: readonly string[]): Promise<DatedState[]> {
  if (ids.length === 0) return [];
  const { rows } = await tx.client.query<DatedState>({
    name: 'dated-states',
    text: `select l.record, l.state, l.received_at as at from unnest($2::uuid[]) as wanted(id)
cross join lateral (select * from ledger where firm = $1 and record = wanted.id and state is not null offset 0) l
order by l.record, l.rev`,
    values: [tx.firm, uuidArray(ids)],
  });
  return rows;
}
