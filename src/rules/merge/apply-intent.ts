import type { Fields } from '../../protocol/read-mutation.ts';
import type { RecordState } from '../../protocol/record.ts';
import { type MergeMemory, registerOf, startMemory, VOIDED } from './merge-memory.ts';
import { type Entry, type Register, type Seen, sameValue, type Write, writeRegister } from './register.ts';

/** What a change wanted: the fields it set, and what its author had in view. Kept in the ledger for a replay. */
export interface Intent {
  /** Null where it is not known: then nothing of another author is superseded. */
  readonly seen: Seen | null;
  readonly set: Fields;
  /** The decision that closes the conflicts of the fields set, whatever their authors had seen. */
  readonly resolution?: string;
  /** Whether superseded values stay readable in the memory: of observations they do. */
  readonly keepsFormer: boolean;
}

export interface Author {
  readonly client: string | null;
  readonly mutation: number | null;
  readonly by: string | null;
  /** The revision that the change brings about. */
  readonly rev: number;
}

/** For a phone that lost its revisions, what it had seen of this field; otherwise the revision. */
function seenOf(seen: Seen | null, field: string): Seen {
  if (seen === null) return { rev: 0 };
  return 'rev' in seen ? seen : { value: (seen.value as Fields)[field] ?? null };
}

/** Edits by others that the one who voids had not seen: each of them says that the record still counts. */
function unseenEdits(memory: MergeMemory, author: Author, seen: Seen | null): Entry[] {
  const rev = seen !== null && 'rev' in seen ? Math.max(seen.rev, 1) : 1;
  const edits = Object.entries(memory.registers).flatMap(([field, register]) => (field === VOIDED ? [] : register));
  return edits
    .filter((entry) => entry.client !== author.client && (entry.shown[0] ?? 1) > rev)
    .map((entry) => ({ ...entry, value: false, shown: [] }));
}

function nextRegister(before: Register, write: Write, intent: Intent): Register {
  return writeRegister(intent.resolution === undefined ? before : [], write);
}

/** Values that this write superseded, added to those superseded before. */
function formerOf(memory: MergeMemory, field: string, before: Register, after: Register): readonly unknown[] {
  const gone = before.filter((entry) => !after.some((left) => sameValue(left.value, entry.value)));
  return [...(memory.former[field] ?? []), ...gone.map((entry) => entry.value)];
}

function takeField(
  memory: MergeMemory,
  state: RecordState,
  author: Author,
  intent: Intent,
  field: string,
): MergeMemory {
  const seen = seenOf(intent.seen, field);
  const value = intent.set[field] ?? null;
  const voiding = field === VOIDED && value === true;
  const known = registerOf(memory, state, field);
  const before = voiding ? [...unseenEdits(memory, author, intent.seen), ...known] : known;
  const after = nextRegister(before, { value, ...author, seen }, intent);
  return {
    origin: memory.origin,
    registers: { ...memory.registers, [field]: after },
    former: intent.keepsFormer ? { ...memory.former, [field]: formerOf(memory, field, before, after) } : memory.former,
    resolutions:
      intent.resolution === undefined ? memory.resolutions : { ...memory.resolutions, [field]: intent.resolution },
  };
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
  return Object.keys(intent.set).reduce((memory, field) => takeField(memory, state, author, intent, field), start);
}
