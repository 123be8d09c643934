import { type Refusal, refuse } from '../refusal.ts';

export interface WasteWater {
  readonly wasteL: number;
  /** Null where the size of a drum is not given. */
  readonly drums: number | null;
}

/**
 * Waste water of one well and the drums that hold it: flow times purge time and what decontamination gives.
 *
 * Source: arithmetic. Limits: an estimate for loading the truck. How full a drum may be filled is of the plan and of the
 * rules for its transport: give the usable part.
 *
 * @example wasteWater({ flowMlPerMin: 200, purgeMin: 60, deconL: 8, drumUsableL: 180 }) // 20 L, 1 drum
 */
export function wasteWater(given: {
  readonly flowMlPerMin: number;
  readonly purgeMin: number;
  readonly deconL: number;
  readonly drumUsableL?: number | undefined;
}): WasteWater | Refusal {
  const { flowMlPerMin, purgeMin, deconL, drumUsableL } = given;
  if (!(flowMlPerMin >= 0 && purgeMin >= 0 && deconL >= 0))
    return refuse(`${flowMlPerMin} mL/min for ${purgeMin} min and ${deconL} L: give each as 0 or more.`);
  const wasteL = (flowMlPerMin * purgeMin) / 1_000 + deconL;
  if (drumUsableL === undefined) return { wasteL, drums: null };
  if (!(drumUsableL > 0)) return refuse(`A drum of ${drumUsableL} L takes no water: give what may go into it.`);
  return { wasteL, drums: Math.ceil(wasteL / drumUsableL) };
}
