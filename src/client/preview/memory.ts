import type { RecordState } from '../../protocol/record.ts';
import { type MergeMemory, startMemory, VOIDED } from '../../rules/merge/merge-memory.ts';
import type { Entry } from '../../rules/merge/register.ts';

interface Rival {
  readonly value: unknown;
  readonly by?: string;
  readonly client?: string;
  readonly mutation?: number;
}

interface Clash {
  readonly type: string;
  readonly field?: string;
  readonly shown: Rival;
  readonly kept: readonly Rival[];
  readonly standing: string;
  readonly resolution?: string;
}

function entryOf({ value, by, client, mutation }: Rival, shown: Entry['shown']): Entry {
  return { value, client: client ?? null, mutation: mutation ?? null, by: by ?? null, shown };
}

/** Kept values came into view before the one shown, and went out of it: whoever writes now has not seen them. */
function withClash(memory: MergeMemory, { type, field, shown, kept, resolution }: Clash): MergeMemory {
  const name = type === 'void' ? VOIDED : field;
  if (name === undefined) return memory;
  const register = [...kept.map((one) => entryOf(one, [1, 2])), entryOf(shown, [2])];
  const registers = { ...memory.registers, [name]: register };
  const resolutions = resolution === undefined ? memory.resolutions : { ...memory.resolutions, [name]: resolution };
  return { ...memory, registers, resolutions };
}

/**
 * What the server remembers of a record that was changed, so far as its conflicts tell it: the values that stand against
 * each other. What corrections superseded is not told to phones.
 *
 * @param conflicts those beside this record
 */
export function memoryHere(state: RecordState, conflicts: readonly RecordState[]): MergeMemory | null {
  const clashes = conflicts.map(({ fields }) => fields as unknown as Clash);
  const own = clashes.filter(({ type }) => type === 'field' || type === 'void');
  const voided = state.voided === null ? {} : { voidFlips: [2] };
  if (own.length === 0) return state.voided === null ? null : { ...startMemory(state), ...voided };
  return own.reduce(withClash, { ...startMemory(state), ...voided });
}
