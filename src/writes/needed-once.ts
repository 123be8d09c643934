import type { ReadMutation } from '../protocol/read-mutation.ts';
import { neededIds } from '../rules/decide/references.ts';

const known = new WeakMap<ReadMutation, readonly string[]>();

/** Every id that has to be loaded before the mutation can be decided; found once, however often it is asked for. */
export function neededOnce(read: ReadMutation): readonly string[] {
  const before = known.get(read);
  if (before) return before;
  const needed = neededIds(read);
  known.set(read, needed);
  return needed;
}
