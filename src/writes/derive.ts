import type { ClockDay } from '../store/write/device-clocks.ts';
import { lastRevisions } from '../store/write/last-revisions.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import { deriveGroup } from './derive-group.ts';
import { deriveSecondPurges } from './derive-second-purges.ts';
import { deriveEquipment, touchedUnits } from './equipment/derive-equipment.ts';
import type { Draft, Group } from './group.ts';
import { deriveCustody } from './samples/derive-custody.ts';
import { deriveSamples } from './samples/derive-samples.ts';

/**
 * A derived record that comes back goes on in its revisions, so that a person who cites one has seen just that.
 *
 * @param from the place of the first draft that may be new
 */
async function continueRevisions(tx: WriteTx, group: Group, from: number): Promise<void> {
  const isNew = ({ held, withdrawn }: Draft) => held.state.rev === 1 && !withdrawn;
  const places = group.drafts.flatMap((draft, index) => (index >= from && isNew(draft) ? [index] : []));
  const ids = places.flatMap((index) => group.drafts[index]?.held.state.id ?? []);
  const last = await lastRevisions(tx, ids);
  for (const { held } of group.drafts.slice(0, from)) {
    if (ids.includes(held.state.id)) last.set(held.state.id, Math.max(held.state.rev, last.get(held.state.id) ?? 0));
  }
  for (const index of places) {
    const draft = group.drafts[index];
    const rev = last.get(draft?.held.state.id ?? '');
    if (!draft || rev === undefined) continue;
    const held = { ...draft.held, state: { ...draft.held.state, rev: rev + 1 } };
    group.drafts[index] = { ...draft, held };
    group.overlay.put(held);
  }
}

/**
 * Derives what the mutations decided so far touch; what was derived before is compared with, so that it may be done
 * again after more of them. The database gathers what is stored around units while visits are derived here.
 *
 * @param days on which the clock of a device of this group was off
 * @param sendSaid sends the drafts before a place that were not sent, when nothing that is waited for would stand behind them
 */
export async function derive(
  tx: WriteTx,
  group: Group,
  days: readonly ClockDay[],
  sendSaid: (until: number) => Promise<void> = async () => undefined,
): Promise<void> {
  const from = group.drafts.length;
  const units = await touchedUnits(tx, group);
  if (units.affected.length === 0) await sendSaid(from);
  try {
    deriveGroup(group, tx.firm, days);
  } catch (error) {
    // nothing of it is on its way when the transaction ends
    await units.around.catch(() => undefined);
    throw error;
  }
  await units.around;
  await sendSaid(from);
  await deriveSecondPurges(tx, group);
  await deriveSamples(tx, group);
  await deriveCustody(tx, group);
  await deriveEquipment(tx, group, units);
  await continueRevisions(tx, group, from);
}
