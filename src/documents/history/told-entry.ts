import type { HistoryEntry, LedgerFact } from '../../rules/record-history/history-entry.ts';

/** A change, with what the records are called that it names. */
export interface ToldChange {
  readonly field: string;
  readonly was?: unknown;
  readonly is?: unknown;
  readonly wasName?: string | undefined;
  readonly isName?: string | undefined;
}

/** An entry of a history as it is given out, without the record itself. */
export interface ToldEntry extends Omit<LedgerFact, 'text' | 'clock'> {
  readonly act: HistoryEntry['act'];
  readonly by: string | null;
  readonly byName: string | null;
  readonly reason: string | null;
  readonly device: { readonly id: string; readonly label: string | null } | null;
  /** Another device, or a token of none, which handed it in as a copy; missing where none did. */
  readonly handedInBy?: { readonly id: string; readonly label: string | null; readonly right: boolean };
  readonly changes: readonly ToldChange[];
}

export function toldEntry(entry: HistoryEntry): ToldEntry {
  const { text: _text, clock: _clock, state, names, device, handedInBy, changes, ...fact } = entry;
  const { by = null, reason = null } = state ?? {};
  const called = (value: unknown) => (typeof value === 'string' ? names.get(value) : undefined);
  return {
    ...fact,
    by,
    byName: by === null ? null : (names.get(by) ?? null),
    reason,
    device: device === null ? null : { id: device, label: names.get(device) ?? null },
    ...(handedInBy === null
      ? {}
      : {
          handedInBy: {
            id: handedInBy.device ?? handedInBy.token ?? '',
            label: names.get(handedInBy.device ?? '') ?? null,
            right: handedInBy.right,
          },
        }),
    changes: changes.map((change) => ({ ...change, wasName: called(change.was), isName: called(change.is) })),
  };
}
