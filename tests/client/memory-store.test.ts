import { describe, expect, it } from 'vitest';
import { memoryStore } from '../../src/client/memory-store.ts';
import { oneAtATime } from '../../src/client/one-at-a-time.ts';
import { storeContract } from './store-contract.ts';

describe('the memory store', () => {
  storeContract(async () => {
    const store = memoryStore();
    return { open: async () => store, close: async () => undefined, remove: async () => undefined };
  });
});

it('runs work one at a time and in order; a failure is its own', async () => {
  const exclusive = oneAtATime();
  const log: string[] = [];
  const work = (name: string, fails: boolean) => async () => {
    log.push(`${name} begins`);
    await new Promise((done) => setTimeout(done, 1));
    log.push(`${name} ends`);
    if (fails) throw new Error(name);
    return name;
  };
  const results = await Promise.allSettled([
    exclusive(work('a', false)),
    exclusive(work('b', true)),
    exclusive(work('c', false)),
  ]);
  expect(results.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
  expect(log).toEqual(['a begins', 'a ends', 'b begins', 'b ends', 'c begins', 'c ends']);
});
