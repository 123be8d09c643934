import { type Refusal, refuse } from '../refusal.ts';

/**
 * P(|X| < t) of Student's distribution, as a function of the angle atan(t / sqrt(df)), in which the closed sums of whole
 * degrees of freedom are short.
 */
function withinAngle(angle: number, degreesOfFreedom: number): number {
  const [sine, cosine] = [Math.sin(angle), Math.cos(angle)];
  const odd = degreesOfFreedom % 2 === 1;
  let term = odd ? cosine : 1;
  let sum = degreesOfFreedom === 1 ? 0 : term;
  for (let power = odd ? 3 : 2; power <= degreesOfFreedom - 2; power += 2) {
    term *= ((power - 1) / power) * cosine * cosine;
    sum += term;
  }
  return odd ? (2 / Math.PI) * (angle + sine * sum) : sine * sum;
}

/**
 * The t that lies beyond a share of Student's distribution on both sides: 12.706 for 1 degree of freedom and 0.95.
 * Found by halving the angle, in which the probability rises steadily.
 *
 * Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 1964, 26.7.3 and 26.7.4 (from memory); checked
 * against a general-purpose statistics library.
 *
 * @param confidence between 0 and 1, such as 0.95
 * @example studentQuantile(10, 0.95) // 2.228
 */
export function studentQuantile(degreesOfFreedom: number, confidence: number): number | Refusal {
  if (!(Number.isInteger(degreesOfFreedom) && degreesOfFreedom >= 1))
    return refuse(`${degreesOfFreedom} degrees of freedom leave nothing to judge a spread by: give more values.`);
  if (!(confidence > 0 && confidence < 1))
    return refuse(`A confidence of ${confidence} is not between 0 and 1: give one such as 0.95.`);
  return checkedStudentQuantile(degreesOfFreedom, confidence);
}

/** The same for callers that have looked already: a whole number of degrees from 1 on, a confidence between 0 and 1. */
export function checkedStudentQuantile(degreesOfFreedom: number, confidence: number): number {
  let [low, high] = [0, Math.PI / 2];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (withinAngle(middle, degreesOfFreedom) < confidence) low = middle;
    else high = middle;
  }
  return Math.sqrt(degreesOfFreedom) * Math.tan((low + high) / 2);
}
