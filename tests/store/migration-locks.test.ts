import type { ClientBase } from 'pg';
import { expect, it, vi } from 'vitest';
import { aloneMigrating } from '../../src/store/migration-locks.ts';

const slept = vi.hoisted(() => ({ ms: 0 }));

vi.mock('node:timers/promises', () => ({
  setTimeout: async (ms: number) => {
    slept.ms += ms;
  },
}));

/** A database whose lock another session has for so long. */
function lockedFor(ms: number): ClientBase {
  const query = async () => ({ rows: [{ taken: slept.ms >= ms }] });
  return { query } as unknown as ClientBase;
}

it('waits for a process that takes several minutes over several migrations', async () => {
  const waiting = vi.fn();
  expect(await aloneMigrating(lockedFor(300_000), { waiting }, async () => 'done')).toBe('done');
  expect(slept.ms).toBe(300_000);
  expect(waiting).toHaveBeenCalledTimes(1);
});
