import type { Fields } from '../../protocol/read-mutation.ts';
import type { RecordState, StampedClock } from '../../protocol/record.ts';
import { type MergeMemory, registerOf, startMemory, VOIDED } from './merge-memory.ts';
import { type Entry, type Register, rivals, type Seen, sameValue, type Write, writeRegister } from './register.ts';
import { seenOfField } from './seen.ts';

/** What a change wanted: the fields it set, and what its author had in view. Kept in the ledger for a replay. */
export interface Intent {
  /** Null where it is not known: then nothing of another author is superseded. */
  readonly seen: Seen | null;
  readonly set: Fields;
  /** The decision that closes the conflicts of the fields set, whatever their authors had seen. */
  readonly resolution?: string;
  /** Whether superseded values stay readable in the memory: of observations they do. */
  readonly keepsFormer: boolean;
  /** Of the device that captured the change: the record itself goes on to tell that of its first state. */
  readonly clock?: StampedClock;
}

export interface Author {
  readonly client: string | null;
  readonly mutation: number | null;
  readonly by: string | null;
  /** The revision that the change brings about. */
  readonly rev: number;
}

function nextRegister(before: Register, write: Write, intent: Intent): Register {
  return writeRegister(intent.resolution === undefined ? before : [], write);
}

function isStill(entry: Entry, register: Register): boolean {
  return register.some((left) => left.client === entry.client && left.mutation === entry.mutation);
}

/** Values that this write superseded, each once, after those superseded before. */
function formerOf(memory: MergeMemory, field: string, before: Register, after: Register): readonly unknown[] {
  const former = [...(memory.former[field] ?? [])];
  for (const { value } of before.filter((entry) => !isStill(entry, after))) {
    if (!former.some((known) => sameValue(known, value))) former.push(value);
  }
  return former;
}

function takeField(
  memory: MergeMemory,
  state: RecordState,
  author: Author,
  intent: Intent,
  field: string,
): MergeMemory {
  const seen = seenOfField(intent.seen, field);
  const value = intent.set[field] ?? null;
  const before = registerOf(memory, state, field);
  const decision = memory.resolutions[field];
  const after = nextRegister(before, { value, ...author, seen, decision }, intent);
  return {
    ...memory,
    registers: { ...memory.registers, [field]: after },
    former: intent.keepsFormer ? { ...memory.former, [field]: formerOf(memory, field, before, after) } : memory.former,
    resolutions:
      intent.resolution === undefined ? memory.resolutions : { ...memory.resolutions, [field]: intent.resolution },
  };
}

function flipped(flips: readonly number[], is: boolean, rev: number): readonly number[] {
  return is === (flips.length % 2 === 1) ? flips : [...flips, rev];
}

function withVoidFlips(memory: MergeMemory, rev: number): MergeMemory {
  const register = memory.registers[VOIDED];
  if (!register) return memory;
  const voidFlips = flipped(memory.voidFlips, register.at(-1)?.value === true, rev);
  const voidRivalFlips = flipped(memory.voidRivalFlips ?? [], rivals(register).length > 0, rev);
  return { ...memory, voidFlips, ...(voidRivalFlips.length > 0 ? { voidRivalFlips } : {}) };
}

/**
 * The memory of a record after a change: every field set goes into its register. The write door and a replay of the
 * ledger both come through here, so that they cannot disagree.
 *
 * @param state the record before the change
 */
export function applyIntent(
  state: RecordState,
  before: MergeMemory | null,
  author: Author,
  intent: Intent,
): MergeMemory {
  const start = before ?? startMemory(state);
  const fields = Object.keys(intent.set);
  const taken = fields.reduce((memory, field) => takeField(memory, state, author, intent, field), start);
  return withVoidFlips(taken, author.rev);
}
