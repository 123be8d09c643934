import { type Refusal, refuse } from '../refusal.ts';

export interface FirstWater {
  /** The line stands full up to the water in the well, as through a check valve that lets it in. */
  readonly soonestMin: number;
  /** The whole line and the pump begin empty. */
  readonly latestMin: number;
}

/**
 * When water first comes out at the surface, at a mean flow: what is empty of the line, over the flow. A pump that has
 * given none by the latest time has a leak, a closed valve or too little pressure.
 *
 * Source: volume over flow, computed. Limits: the mean flow from the first stroke on; without leaks.
 *
 * @param emptyMl of the line from the water in the well to the outlet
 * @param wholeMl of the line from pump to outlet and of the pump
 * @example firstWater({ emptyMl: 134, wholeMl: 400, flowMlPerMin: 200 }) // 0.67 to 2.0 min
 */
export function firstWater(given: {
  readonly emptyMl: number;
  readonly wholeMl: number;
  readonly flowMlPerMin: number;
}): FirstWater | Refusal {
  const { emptyMl, wholeMl, flowMlPerMin } = given;
  if (!(flowMlPerMin > 0)) return refuse(`At ${flowMlPerMin} mL/min no water comes: give a flow above 0.`);
  if (!(emptyMl >= 0 && wholeMl >= emptyMl))
    return refuse(`An empty part of ${emptyMl} mL in a whole of ${wholeMl} mL: give the line from the pump on.`);
  return { soonestMin: emptyMl / flowMlPerMin, latestMin: wholeMl / flowMlPerMin };
}
