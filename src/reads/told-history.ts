import type { HistoryEntry, HistoryTelling, LedgerFact } from '../rules/record-history/history-entry.ts';
import type { HistoryKey } from '../rules/record-history/in-one-order.ts';
import { devicesOfClients, historyRows } from '../store/read/history-rows.ts';
import { recordStates } from '../store/read/record-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { namedIn } from './history-names.ts';

type Work = ReturnType<HistoryTelling['entry']>;

/** What the entries name is called as it is now; whether the reader follows the feed of a name makes no difference. */
async function withNames(tx: ReadTx, told: readonly Work[]): Promise<HistoryEntry[]> {
  const clients = [...new Set(told.flatMap(({ client }) => client ?? []))];
  const devices = await devicesOfClients(tx, clients);
  const ids = new Set([...told.flatMap(namedIn), ...devices.values()]);
  const rows = await recordStates(tx, [...ids], null);
  const name = ({ fields }: { fields: Readonly<Record<string, unknown>> }) => String(fields.name ?? fields.label ?? '');
  const names = new Map(rows.map(({ id, state }) => [id, name(state)]));
  return told.map((one) => ({ ...one, names, device: devices.get(one.client ?? '') ?? null }));
}

/** The rows at these places, told one after the other. */
export async function toldAt(
  tx: ReadTx,
  keys: readonly HistoryKey[],
  telling: HistoryTelling,
): Promise<readonly HistoryEntry[]> {
  const facts: readonly LedgerFact[] = await historyRows(tx, keys);
  return withNames(
    tx,
    facts.map((fact) => telling.entry(fact)),
  );
}
