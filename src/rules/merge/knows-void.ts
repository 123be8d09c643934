import { type MergeMemory, VOIDED } from './merge-memory.ts';
import type { Seen } from './register.ts';

/**
 * Whether the writer of a change saw the record as void: by its own void that it had not yet pulled, or at the revision
 * that it had in view. Fixed by what the writer saw, so that it does not depend on what else reached the server.
 */
export function knowsVoid(memory: MergeMemory | null, client: string, seen: Seen | null): boolean {
  if (memory === null) return false;
  const rev = seen !== null && 'rev' in seen ? seen.rev : 0;
  const own = memory.registers[VOIDED]?.findLast((entry) => entry.client === client);
  if (own && own.shown[0] > rev) return own.value === true;
  return memory.voidFlips.filter((flip) => flip <= rev).length % 2 === 1;
}

/**
 * Whether the writer of a change had in view that a void and an edit stand against each other. Who edits another field
 * then says nothing about that: it waits for a person's decision. Fixed by what the writer saw, as above.
 */
export function seesVoidRivals(memory: MergeMemory | null, seen: Seen | null): boolean {
  const rev = seen !== null && 'rev' in seen ? seen.rev : 0;
  return (memory?.voidRivalFlips ?? []).filter((flip) => flip <= rev).length % 2 === 1;
}
