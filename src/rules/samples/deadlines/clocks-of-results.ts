import { isRefusal, type Refusal } from '../../../science/refusal.ts';
import {
  type ClockLimit,
  type ClockReading,
  type ClockState,
  holdingClocks,
  type SampleTimes,
} from '../../../science/samples/holding-clocks.ts';
import type { ContainerTimes } from './container-times.ts';

/** Which of two readings of one clock is told: a step that no result names says nothing against one that another names. */
const TOLD_FIRST: readonly ClockState[] = ['late', 'before-start', 'in-time', 'running', 'not-started'];

function worse(a: ClockReading, b: ClockReading): ClockReading {
  const order = TOLD_FIRST.indexOf(a.state) - TOLD_FIRST.indexOf(b.state);
  if (order !== 0) return order < 0 ? a : b;
  if (a.spareMinutes !== null && b.spareMinutes !== null) return a.spareMinutes <= b.spareMinutes ? a : b;
  // both run: what was extracted first is due first
  return (a.dueAt ?? '') <= (b.dueAt ?? '') ? a : b;
}

/**
 * The clocks of a bottle of which several analytes were extracted and analysed, each at its own time: late where one is
 * late, else with the one that had the least to spare. An extraction and an analysis belong together only within a result.
 */
export function readClocks(
  limits: readonly ClockLimit[],
  times: SampleTimes,
  atLaboratory: ContainerTimes['atLaboratory'],
): readonly ClockReading[] | Refusal {
  let told = holdingClocks(limits, { ...times, ...atLaboratory[0] });
  for (const steps of atLaboratory.slice(1)) {
    const next = holdingClocks(limits, { ...times, ...steps });
    if (isRefusal(told) || isRefusal(next)) return isRefusal(told) ? told : next;
    const before: readonly ClockReading[] = told;
    told = next.map((reading, at) => worse(before[at] ?? reading, reading));
  }
  return told;
}
