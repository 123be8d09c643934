import { flag } from '../../../src/protocol/kinds/flag.ts';
import type { Answer, Batch } from '../../../src/writes/batch.ts';
import { type Bug, inLane } from './bug.ts';

const { family } = flag;

/**
 * While a push is decided, a flag counts as something that was said and not derived: a visit that nobody loaded is then
 * derived anew from nothing, since a flag about a unit lies in it. Pushes overlap, so they are counted.
 */
function flagsAsSaid() {
  let running = 0;
  return (next: (batch: Batch) => Promise<Answer>) => async (batch: Batch) => {
    running += 1;
    Object.assign(flag, { family: 'fact' });
    try {
      return await next(batch);
    } finally {
      running -= 1;
      if (running === 0) Object.assign(flag, { family });
    }
  };
}

/** The office does much between two syncs: a unit gets another label, a visit is entered, and a flag is looked at. */
const GEAR = { equipment: true, resolves: true, begun: true, phones: 3, steps: 60, network: 0.3 } as const;

export const EQUIPMENT_BUGS: readonly Bug[] = [
  inLane('what is derived of equipment makes its visit derive anew', ['derived otherwise'], GEAR, flagsAsSaid),
];
