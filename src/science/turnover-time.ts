import { placesOf, scaled } from './decimal-text.ts';

const MS_PER_MIN = 60_000;

/**
 * Time in which a flow replaces the water of a flow cell once: V / Q, in whole milliseconds rounded up. 250 mL at
 * 50 mL/min is 5 min, 500 mL at 50 mL/min is 10 min (computed). It is the least there is: a mixed cell needs longer.
 *
 * @returns Infinity where no water moves
 */
export function turnoverTimeMs(flowCellMl: string, flowMlPerMin: string): number {
  const places = Math.max(placesOf(flowCellMl), placesOf(flowMlPerMin));
  const volume = scaled(flowCellMl, places);
  const flow = scaled(flowMlPerMin, places);
  if (flow <= 0) return Number.POSITIVE_INFINITY;
  return Math.ceil(exactQuotient(volume * MS_PER_MIN, volume, flow));
}

/** volume * 60000 / flow, such that rounding it up is right also where the product is beyond 2^53. */
function exactQuotient(product: number, volume: number, flow: number): number {
  if (Number.isSafeInteger(product)) return product % flow === 0 ? product / flow : Math.floor(product / flow) + 0.5;
  const wide = BigInt(volume) * BigInt(MS_PER_MIN);
  return Number((wide + BigInt(flow) - 1n) / BigInt(flow));
}

/**
 * Least time between two readings of a window: the interval of the criteria, and with a turnover condition also the
 * turnover of the cell: max(5 min, V / Q) (US EPA Region 1, EQASOP-GW4, Rev. 4, 2017; from memory).
 */
export function readingIntervalMs(criteriaMs: number, turnoverMs: number | null): number {
  return turnoverMs === null ? criteriaMs : Math.max(criteriaMs, turnoverMs);
}
