import type { ClientStore } from '../../../src/client/store.ts';

export class Crash extends Error {}

export interface CrashStore extends ClientStore {
  /** How many commits were begun. */
  readonly begun: number;
}

/**
 * A store whose device dies at the n-th commit, just before it happens or just after it. Nothing is written after
 * that, whatever the library still tries; the next start opens the store inside again.
 */
export function crashStore(inner: ClientStore, at: number, when: 'before' | 'after'): CrashStore {
  let begun = 0;
  return {
    ...inner,
    get begun() {
      return begun;
    },
    commit: async (changes) => {
      begun += 1;
      if (begun > at || (begun === at && when === 'before')) throw new Crash(`the device died at commit ${begun}`);
      await inner.commit(changes);
      if (begun === at) throw new Crash(`the device died after commit ${begun}`);
    },
  };
}
