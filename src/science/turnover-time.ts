import { millionths } from './millionths.ts';
import { quotientRoundedUp } from './ratio.ts';

const MS_PER_MIN = 60_000;

/**
 * Time in which a flow replaces the water of a flow cell once: V / Q, in whole milliseconds rounded up. 250 mL at
 * 50 mL/min is 5 min, 500 mL at 50 mL/min is 10 min (computed). It is the least there is: a mixed cell needs longer.
 *
 * @returns Infinity where no water moves
 */
export function turnoverTimeMs(flowCellMl: string, flowMlPerMin: string): number {
  const flow = millionths(flowMlPerMin);
  if (flow <= 0) return Number.POSITIVE_INFINITY;
  return Number(quotientRoundedUp(Math.max(0, millionths(flowCellMl)), MS_PER_MIN, flow));
}

/**
 * Least time between two readings of a window: the interval of the criteria, and with a turnover condition also the
 * turnover of the cell: max(5 min, V / Q) (US EPA Region 1, EQASOP-GW4, Rev. 4, 2017; from memory).
 */
export function readingIntervalMs(criteriaMs: number, turnoverMs: number | null): number {
  return turnoverMs === null ? criteriaMs : Math.max(criteriaMs, turnoverMs);
}
