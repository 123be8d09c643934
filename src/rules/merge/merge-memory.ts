import type { RecordState } from '../../protocol/record.ts';
import type { Entry, Register } from './register.ts';

/** Who gave a record its first values. */
export interface Origin {
  readonly client: string | null;
  readonly mutation: number | null;
  readonly by: string | null;
}

/**
 * What has to be remembered beside the state of a record so that a late change can be merged. Null until the first
 * change: then every field still has its first value, from the one who made the record.
 */
export interface MergeMemory {
  readonly origin: Origin;
  /** Only of the fields that were changed since. */
  readonly registers: Readonly<Record<string, Register>>;
  /** Values that a correction superseded, oldest first; of observations only. */
  readonly former: Readonly<Record<string, readonly unknown[]>>;
  /** The decision that closed the conflict of a field. */
  readonly resolutions: Readonly<Record<string, string>>;
}

/** The register under which voiding a record is remembered, beside those of its fields. */
export const VOIDED = '$voided';

export function startMemory(state: RecordState): MergeMemory {
  const { client, mutation, by } = state;
  return { origin: { client, mutation, by }, registers: {}, former: {}, resolutions: {} };
}

/**
 * The register of a field, made from the first value where the field was never changed. Nobody states that a record
 * is not void, so that register begins empty.
 */
export function registerOf(memory: MergeMemory, state: RecordState, field: string): Register {
  const known = memory.registers[field];
  if (known) return known;
  if (field === VOIDED) return [];
  const first: Entry = { value: state.fields[field] ?? null, ...memory.origin, shown: [1] };
  return [first];
}
