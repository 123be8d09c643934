import type { RecordState } from '../../protocol/record.ts';
import { applyIntent, type Intent } from './apply-intent.ts';
import type { MergeMemory } from './merge-memory.ts';

/** A change of a record as the ledger keeps it: the state that it brought about, and what its author wanted. */
export interface LedgerChange {
  readonly state: RecordState;
  /** Null for the first record, and for what the server derived. */
  readonly intent: Intent | null;
}

/**
 * Rebuilds what has to be remembered beside a record from its changes alone.
 *
 * @param changes all of them, in the order of their revisions, wherever the record lived
 */
export function replayMemory(changes: readonly LedgerChange[]): MergeMemory | null {
  let memory: MergeMemory | null = null;
  let before: RecordState | undefined;
  for (const { state, intent } of changes) {
    const { client, mutation, by, rev } = state;
    if (before && intent) memory = applyIntent(before, memory, { client, mutation, by, rev }, intent);
    before = state;
  }
  return memory;
}
