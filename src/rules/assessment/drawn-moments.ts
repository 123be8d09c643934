import type { AskedVolumes } from './asked-volumes.ts';
import type { Moment } from './moments.ts';

/** The first reading up to which as much was drawn as is asked for; beyond every reading where none is. */
function firstReached(purgedMl: readonly (number | null)[], leastMl: number): number {
  const first = purgedMl.findIndex((drawn) => drawn !== null && drawn >= leastMl);
  return first < 0 ? Number.MAX_SAFE_INTEGER : first;
}

/**
 * What holds at each reading, with the volumes that must be drawn: before the first reading that counts, and between two
 * of a window. Where a volume is not known nothing is asked for.
 */
export function drawnMoments(
  moments: readonly Moment[],
  purgedMl: readonly (number | null)[],
  { beforeFirstMl, betweenMl }: AskedVolumes,
): Moment[] {
  const first = beforeFirstMl === null ? 0 : firstReached(purgedMl, beforeFirstMl);
  return moments.map((moment, end) => {
    const drawnMl = purgedMl[end] ?? null;
    const start = drawnMl === null || first === 0 ? 0 : first <= end ? first : Number.MAX_SAFE_INTEGER;
    return {
      ...moment,
      firstCounted: Math.max(moment.firstCounted, start),
      drawnMl,
      apartMl: drawnMl === null ? null : betweenMl,
    };
  });
}
