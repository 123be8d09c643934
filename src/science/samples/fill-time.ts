import { type Refusal, refuse } from '../refusal.ts';

export interface BottlesToFill {
  readonly count: number;
  readonly volumeMl: number;
}

/**
 * How long one bottle takes at a flow: t = 60 V / Q.
 *
 * Source: definition. @example fillTimeS(40, 100) // 24
 */
export function fillTimeS(volumeMl: number, flowMlPerMin: number): number | Refusal {
  if (!(volumeMl >= 0 && Number.isFinite(volumeMl)))
    return refuse(`A volume of ${volumeMl} mL is none: give 0 or more.`);
  if (!(flowMlPerMin > 0 && Number.isFinite(flowMlPerMin)))
    return refuse(`A flow of ${flowMlPerMin} mL/min fills nothing: give it above 0.`);
  return (60 * volumeMl) / flowMlPerMin;
}

/** Millilitres that a set of bottles takes: @example bottleSetMl([{ count: 3, volumeMl: 40 }]) // 120 */
export function bottleSetMl(bottles: readonly BottlesToFill[]): number | Refusal {
  const odd = bottles.find(({ count, volumeMl }) => !(Number.isInteger(count) && count >= 0 && volumeMl >= 0));
  if (odd)
    return refuse(`${odd.count} bottles of ${odd.volumeMl} mL are no set: give whole counts and volumes of 0 or more.`);
  return bottles.reduce((sum, { count, volumeMl }) => sum + count * volumeMl, 0);
}
