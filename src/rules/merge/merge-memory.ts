import type { RecordState } from '../../protocol/record.ts';
import { type Entry, type Register, rivals, sameValue } from './register.ts';

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
  /** Values that a correction superseded, oldest first, each once; of observations only. One may be in use again. */
  readonly former: Readonly<Record<string, readonly unknown[]>>;
  /** The decision that closed the conflict of a field. */
  readonly resolutions: Readonly<Record<string, string>>;
  /** Revisions at which the record became void, counted again, became void again ... */
  readonly voidFlips: readonly number[];
  /** Revisions at which a void and an edit began to be rivals, ceased to be, began again ...; missing where they never were. */
  readonly voidRivalFlips?: readonly number[];
}

/** The register under which voiding a record is remembered, and that somebody still counted it, beside those of its fields. */
export const VOIDED = '$voided';

export function startMemory(state: RecordState): MergeMemory {
  const { client, mutation, by } = state;
  return { origin: { client, mutation, by }, registers: {}, former: {}, resolutions: {}, voidFlips: [] };
}

/**
 * The register of a field, made from the first value where the field was never changed. A field that was left out says
 * nothing, so that whoever fills it in later has no rival; and nobody states that a new record is not void.
 */
export function registerOf(memory: MergeMemory, state: RecordState, field: string): Register {
  const known = memory.registers[field];
  if (known) return known;
  const value = state.fields[field];
  if (field === VOIDED || value === undefined || value === null) return [];
  const first: Entry = { value, ...memory.origin, shown: [1] };
  return [first];
}

/** Whether one of the fields holds a value beside the one shown. */
export function haveRivals(memory: MergeMemory, fields: readonly string[]): boolean {
  const registers = Object.entries(memory.registers);
  return registers.some(([field, register]) => fields.includes(field) && rivals(register).length > 0);
}

/** The values that corrections superseded and that nobody gives any more, by field, oldest first. */
export function supersededValues(memory: MergeMemory): ReadonlyMap<string, readonly unknown[]> {
  const fields = Object.entries(memory.registers).map(([field, register]): [string, readonly unknown[]] => {
    const values = memory.former[field] ?? [];
    return [field, values.filter((value) => !register.some((entry) => sameValue(entry.value, value)))];
  });
  return new Map(fields.filter(([, values]) => values.length > 0));
}
