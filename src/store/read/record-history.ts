import type { RecordState, StampedClock } from '../../protocol/record.ts';
import { Prisma } from '../generated/client.ts';
import type { RecordsTx } from '../records.ts';

/** One row of the ledger about a record: a state of it, or the news that it left a feed. */
export interface HistoryRow {
  readonly feed: string;
  readonly seq: number;
  readonly rev: number;
  readonly receivedAt: string;
  readonly client: string | null;
  readonly mutation: number | null;
  /** Of the device, when it captured this change; the state goes on to tell that of the first. Null where no device says. */
  readonly clock: StampedClock | null;
  readonly state: RecordState | null;
}

const SELECT = {
  feed: true,
  seq: true,
  rev: true,
  receivedAt: true,
  client: true,
  mutation: true,
  state: true,
  intent: true,
} as const;

type Row = Prisma.LedgerGetPayload<{ select: typeof SELECT }>;

function capturedBy(rev: number, state: RecordState | null, intent: unknown): StampedClock | null {
  const { clock = null } = (rev === 1 ? state : (intent as Pick<RecordState, 'clock'> | null)) ?? {};
  return clock;
}

function historyRow({ intent, ...row }: Row): HistoryRow {
  const state = row.state as unknown as RecordState | null;
  return {
    ...row,
    seq: Number(row.seq),
    mutation: row.mutation === null ? null : Number(row.mutation),
    receivedAt: row.receivedAt.toISOString(),
    clock: capturedBy(row.rev, state, intent),
    state,
  };
}

/** What a person wrote goes by revision; a derived record that was withdrawn begins again at 1, so it goes by time. */
const ORDER = {
  written: [{ rev: 'asc' }, { receivedAt: 'asc' }, { seq: 'asc' }, { feed: 'asc' }],
  derived: [{ receivedAt: 'asc' }, { rev: 'asc' }, { seq: 'asc' }, { feed: 'asc' }],
} as const;

/** A written record that moves leaves a row behind in its old feed; its state in the new feed tells the same. */
const ONLY_STATES = { NOT: { state: { equals: Prisma.DbNull } } };

/** What the ledger says of a record, oldest first. Rows are only ever added at the end, so `skip` names a fixed place. */
export async function recordHistory(
  tx: RecordsTx,
  record: string,
  by: keyof typeof ORDER,
  page: { readonly skip: number; readonly take: number },
): Promise<HistoryRow[]> {
  const where = { firm: tx.firm, record, ...(by === 'written' ? ONLY_STATES : {}) };
  const rows = await tx.db.ledger.findMany({ where, orderBy: [...ORDER[by]], select: SELECT, ...page });
  return rows.map(historyRow);
}
