/**
 * How a value changes from the first reading to the last and on: 0 at the first, 1 at the last. It approaches a plateau
 * with a time constant, goes on in a straight line, or runs away.
 */
export type Shape = (time: number) => number;

/**
 * 1 - exp(-t / T), set to 0 at the first time and to 1 at the last. An infinite time constant is the straight line, and a
 * negative one runs away.
 *
 * Source: the exponential approach of a well-mixed volume to its inflow, arithmetic.
 *
 * @example approachShape(0, 10, 5)(10) // 1
 */
export function approachShape(first: number, last: number, timeConstant: number): Shape {
  if (!Number.isFinite(timeConstant)) return (time) => (time - first) / (last - first);
  const whole = Math.expm1((first - last) / timeConstant);
  return (time) => Math.expm1((first - time) / timeConstant) / whole;
}

/** How many time constants of an approach are tried. */
const APPROACHES = 20;
/** The shortest is this part of the time between two readings: anything faster has no second reading to show it. */
const SHORTEST_OF_GAP = 1 / 3;
/** The longest is this many times the span of the readings: beyond, no reading can tell it from a line. */
const LONGEST_OF_SPAN = 8;
/** Running away: by how many spans the change grows e-fold. */
const RUNAWAYS_OF_SPAN = [-4, -1.5, -0.75];

/**
 * The time constants that are tried, evenly spaced in their logarithm from a third of the gap to eight spans, then the
 * line, then three that run away. All are thought equally likely beforehand: common practice, no source.
 *
 * @param span time from the first reading to the last
 * @param gap time between two readings
 */
export function timeConstants(span: number, gap: number): number[] {
  const [low, high] = [Math.log(gap * SHORTEST_OF_GAP), Math.log(span * LONGEST_OF_SPAN)];
  const approaches = Array.from({ length: APPROACHES }, (_, at) =>
    Math.exp(low + ((high - low) * at) / (APPROACHES - 1)),
  );
  return [...approaches, Number.POSITIVE_INFINITY, ...RUNAWAYS_OF_SPAN.map((spans) => spans * span)];
}
