/** Bottles of one group of analytes: how many of how much, and what is the least that still gives a result. */
export interface WaterNeed {
  readonly id: string;
  readonly count: number;
  readonly volumeMl: number;
  readonly leastCount: number;
  /** Of each bottle. */
  readonly leastVolumeMl: number;
}

export interface WaterShare {
  readonly id: string;
  readonly share: 'whole' | 'reduced' | 'none';
  readonly count: number;
  readonly volumeMl: number;
}

interface Filled {
  readonly need: WaterNeed;
  count: number;
  volumeMl: number;
}

function addVolume(filled: Filled, leftMl: number): number {
  const each = Math.min(filled.need.volumeMl - filled.volumeMl, Math.floor(leftMl / filled.count));
  filled.volumeMl += each;
  return leftMl - each * filled.count;
}

function addBottles(filled: Filled, leftMl: number): number {
  if (filled.volumeMl === 0) return leftMl;
  const more = Math.min(filled.need.count - filled.count, Math.floor(leftMl / filled.volumeMl));
  filled.count += more;
  return leftMl - more * filled.volumeMl;
}

function share({ need, count, volumeMl }: Filled): WaterShare {
  const whole = count === need.count && volumeMl === need.volumeMl;
  return { id: need.id, count, volumeMl, share: count === 0 ? 'none' : whole ? 'whole' : 'reduced' };
}

/**
 * What to fill where a well gives less than all bottles take. In the order of their priority, each gets the least that it
 * can be analysed with; what is left then fills them up in the same order. What does not get its least gets nothing: a
 * bottle that cannot be analysed is water lost to the next.
 *
 * Source: common practice, no source; the plan's priorities decide.
 *
 * @param needs the most important first
 * @param availableMl whole millilitres
 */
export function allotWater(needs: readonly WaterNeed[], availableMl: number): readonly WaterShare[] {
  let left = Math.max(0, Math.floor(availableMl));
  const filled = needs.map((need): Filled => {
    const leastMl = need.leastCount * need.leastVolumeMl;
    if (leastMl > left || need.leastCount < 1) return { need, count: 0, volumeMl: 0 };
    left -= leastMl;
    return { need, count: need.leastCount, volumeMl: need.leastVolumeMl };
  });
  for (const one of filled.filter(({ count }) => count > 0)) left = addBottles(one, addVolume(one, left));
  return filled.map(share);
}
