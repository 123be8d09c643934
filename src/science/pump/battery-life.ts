import { type Refusal, refuse } from '../refusal.ts';

/**
 * How long a battery drives a pump, compressor or controller: t = C share / I.
 *
 * Source: definition of capacity. Limits: at the rate and temperature for which the capacity is stated; a cold or old
 * battery gives less. The usable share is of the battery's maker or the plan: none is assumed here.
 *
 * @param usablePercent how far it may be emptied
 * @example batteryLifeH({ capacityAh: 35, usablePercent: 50, drawA: 7 }) // 2.5
 */
export function batteryLifeH(given: {
  readonly capacityAh: number;
  readonly usablePercent: number;
  readonly drawA: number;
}): number | Refusal {
  const { capacityAh, usablePercent, drawA } = given;
  if (!(capacityAh > 0 && drawA > 0 && usablePercent > 0 && usablePercent <= 100))
    return refuse(
      `A battery of ${capacityAh} Ah, ${usablePercent} % of it usable, at ${drawA} A: give capacity and mean draw above 0 and a share of at most 100 %.`,
    );
  return (capacityAh * usablePercent) / 100 / drawA;
}
