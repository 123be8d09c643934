import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { nernstSlopeMv } from './nernst-slope.ts';

export interface BufferMv {
  /** Of the buffer at its temperature. */
  readonly ph: number;
  readonly mv: number;
}

export interface ElectrodeSlope {
  readonly mvPerPh: number;
  /** Of a perfect electrode at that temperature. */
  readonly nernstMvPerPh: number;
  readonly percentOfNernst: number;
  /** Where the line through both buffers passes pH 7.00. */
  readonly mvAtPh7: number;
}

/**
 * Slope of a glass electrode from two buffers at one temperature, and its share of the Nernst slope.
 *
 * Source: definition. Limits: buffers at least 1 pH apart, for closer ones turn a millivolt into percents; both at the
 * temperature given.
 *
 * @example electrodeSlope({ ph: 7, mv: 0 }, { ph: 4, mv: 172 }, 25) // mvPerPh: 57.3, percentOfNernst: 96.9
 */
export function electrodeSlope(first: BufferMv, second: BufferMv, temperatureC: number): ElectrodeSlope | Refusal {
  const nernst = nernstSlopeMv(temperatureC);
  if (isRefusal(nernst)) return nernst;
  if (!(Math.abs(second.ph - first.ph) >= 1 && Number.isFinite(second.mv - first.mv)))
    return refuse(
      `Buffers of pH ${first.ph} and ${second.ph} with ${first.mv} and ${second.mv} mV make no slope: give two at least 1 pH apart.`,
    );
  const mvPerPh = (first.mv - second.mv) / (second.ph - first.ph);
  return {
    mvPerPh,
    nernstMvPerPh: nernst,
    percentOfNernst: (100 * mvPerPh) / nernst,
    mvAtPh7: first.mv + mvPerPh * (first.ph - 7),
  };
}
