import { applyChanges, noContents, questionsOf } from './contents.ts';
import type { ClientStore } from './store.ts';

/** Everything in memory, for tests, simulations and a look around. A commit has no await in it, so it cannot be torn. */
export function memoryStore(): ClientStore {
  const contents = noContents();
  return { ...questionsOf(contents), commit: async (changes) => applyChanges(contents, changes) };
}
