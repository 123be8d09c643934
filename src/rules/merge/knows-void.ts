import { type MergeMemory, VOIDED } from './merge-memory.ts';
import type { Seen } from './register.ts';
import { recordRevOf } from './seen.ts';

/** Of the own void that was on the screen, where the writer says so; undefined where it says nothing of the kind. */
function ownVoid(seen: Seen | null): boolean | undefined {
  return seen !== null && 'rev' in seen && seen.under ? Object.hasOwn(seen.under, VOIDED) : undefined;
}

/**
 * Whether the writer of a change saw the record as void: by its own void that it had not yet pulled, or at the revision
 * that it had in view. Fixed by what the writer saw, so that it does not depend on what else reached the server.
 */
export function knowsVoid(memory: MergeMemory | null, client: string, seen: Seen | null): boolean {
  const said = ownVoid(seen);
  if (said === true) return true;
  if (memory === null) return false;
  const rev = recordRevOf(seen);
  const own = memory.registers[VOIDED]?.findLast((entry) => entry.client === client);
  // an own edit does not hide a void that was pulled: who says what stood on the screen is taken at that word
  if (said === undefined && own && own.shown[0] > rev) return own.value === true;
  return memory.voidFlips.filter((flip) => flip <= rev).length % 2 === 1;
}

/**
 * Whether the writer of a change had in view that a void and an edit stand against each other. Who edits another field
 * then says nothing about that: it waits for a person's decision. Fixed by what the writer saw, as above.
 */
export function seesVoidRivals(memory: MergeMemory | null, seen: Seen | null): boolean {
  const rev = recordRevOf(seen);
  return (memory?.voidRivalFlips ?? []).filter((flip) => flip <= rev).length % 2 === 1;
}
