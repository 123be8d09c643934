import { randomUUID } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Answer, Batch } from '../../src/writes/batch.ts';
import { openLane } from '../../src/writes/lane.ts';
import { faultyPool } from './faulty-pool.ts';
import { batchOf, type TestFirm } from './test-firm.ts';

/** Batches that share one transaction, as those do that arrive while another is under way. */
export async function oneGroup(firm: TestFirm, ...batches: readonly Batch[]): Promise<Answer[]> {
  let open = (): void => undefined;
  let reached = false;
  const gate = new Promise<void>((resolve) => {
    open = resolve;
  });
  const pool = faultyPool(firm.pool, (statement) => {
    if (statement !== 'commit' || reached) return;
    reached = true;
    return gate;
  });
  const lane = openLane({ pool, now: () => new Date(firm.nowMs), committed: () => undefined });
  const empty = lane(batchOf(await firm.actor('admin'), randomUUID(), 1, []));
  while (!reached) await sleep(1);
  const answers = batches.map((batch) => lane(batch));
  open();
  await empty;
  return Promise.all(answers);
}
