import { type Refusal, refuse } from '../refusal.ts';

/**
 * How many QC samples a frequency asks for: one for each so many normal samples or part of them, none for none.
 *
 * Source: "1 per 10 or portion thereof", a sampling plan in a county file, doc 581139, page 111. Limits: QC samples
 * themselves are not counted among the normal ones.
 *
 * @example qcCount(37, 10) // 4
 */
export function qcCount(normalSamples: number, oneForEach: number): number | Refusal {
  if (!(Number.isInteger(normalSamples) && normalSamples >= 0))
    return refuse(`${normalSamples} normal samples cannot be counted: give a whole number, 0 or more.`);
  if (!(Number.isInteger(oneForEach) && oneForEach > 0))
    return refuse(`One for each ${oneForEach} is no frequency: give a whole number above 0.`);
  return Math.ceil(normalSamples / oneForEach);
}
