import { measuredCorrection } from '../../rules/clock-correction.ts';
import { UNMEASURED_MS } from '../../rules/custody/clocks.ts';
import { type ContainerStep, type ContentsChange, contentsChanges } from '../../rules/custody/contents-changes.ts';
import type { CoolerFacts } from '../../rules/custody/cooler-facts.ts';
import { signaturesOf } from '../../rules/custody/signatures.ts';
import { byIdIn } from '../../rules/samples/by-id.ts';
import type { EventSamples } from '../../rules/samples/event-samples.ts';
import type { ContainerRecord } from '../../rules/samples/sample-records.ts';
import { type ContainerRow, contentsHistory } from '../../store/read/contents-history.ts';
import { devicesOfClients } from '../../store/read/history-rows.ts';
import type { ReadTx } from '../../store/read/transaction.ts';

/** How a cooler came to what is in it. */
export interface Contents {
  readonly changes: readonly ContentsChange[];
  /** What was in it and is not any more, as it last was in there. */
  readonly gone: readonly ContainerRecord[];
}

export const NOTHING_MOVED: Contents = { changes: [], gone: [] };

/**
 * Whoever packed without a signal packed when the device says so, and not when the server heard of it. Older rows of the
 * ledger do not have what the device said.
 */
export function changedAt(
  { clock, receivedAt }: Pick<ContainerRow, 'clock' | 'receivedAt'>,
  isOfDevice: boolean,
): Pick<ContainerStep, 'at' | 'uncertaintyMs'> {
  if (clock === null) return { at: new Date(receivedAt).toISOString(), uncertaintyMs: isOfDevice ? null : 0 };
  const { addMs, uncertaintyMs } = measuredCorrection(clock, UNMEASURED_MS);
  return { at: new Date(Date.parse(clock.wall) + addMs).toISOString(), uncertaintyMs };
}

interface Named {
  readonly names: ReadonlyMap<string, string>;
  readonly initials: ReadonlyMap<string, string>;
}

/** What came into a cooler and left it; nothing is read of one that nobody signed for. */
export async function coolerContents(
  tx: ReadTx,
  facts: CoolerFacts,
  of: Pick<EventSamples, 'event' | 'coolers'>,
  { names, initials }: Named,
): Promise<Contents> {
  const { cooler } = facts;
  if (signaturesOf(facts).length === 0) return NOTHING_MOVED;
  const rows = await contentsHistory(tx, `event:${of.event.id}`, cooler.id);
  const unclocked = rows.flatMap(({ clock, state }) => (clock === null ? (state?.client ?? []) : []));
  const ofDevices = await devicesOfClients(tx, [...new Set(unclocked)]);
  const steps = rows.map((row) => {
    const { id, state } = row;
    return { container: id, state, ...changedAt(row, ofDevices.has(state?.client ?? '')) };
  });
  return contentsChanges(cooler.id, steps, {
    person: (id) => names.get(id) ?? null,
    initials: (id) => initials.get(id) || null,
    cooler: (id) => byIdIn(of.coolers, id)?.fields.number ?? null,
  });
}
