import { expect, it } from 'vitest';
import { receiptsInOrder } from '../../../src/rules/samples/receipt-words.ts';
import { idOf, SamplesWorld } from './samples-world.ts';

const NINE = '2026-05-05T09:00:00-05:00';

it('of receipts of one minute the one that was entered later has the last word, whatever their ids', () => {
  const order = (...entered: readonly (readonly [id: string, at: string, received?: string])[]) => {
    const world = new SamplesWorld();
    for (const [id, at, received = NINE] of entered) {
      const observed = { at: received, entered: at, captured: 'same-day', readBy: 'ann', writtenBy: 'ann' };
      world.add('sample-receipt', id, { event: 'event-1', cooler: 'c-1', received, observed });
    }
    return receiptsInOrder(world.samples().receipts).map(({ id }) => id);
  };
  const [early, late] = ['2026-05-05T14:05:00Z', '2026-05-05T09:10:00-05:00'] as const;
  expect(order(['r-1', early], ['r-2', late])).toEqual(['r-1', 'r-2'].map(idOf));
  expect(order(['r-1', late], ['r-2', early])).toEqual(['r-2', 'r-1'].map(idOf));
  expect(order(['r-1', early, '2026-05-05T09:01:00-05:00'], ['r-2', late])).toEqual(['r-2', 'r-1'].map(idOf));
});
