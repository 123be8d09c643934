import { cylinderVolumeMl } from './cylinder-volume.ts';
import { isRefusal, type Refusal } from './refusal.ts';

export interface MinimumPurge {
  /** Water that the drawdown took out of the casing. */
  readonly drawdownMl: number;
  readonly tubingMl: number;
  /** The purge must be larger than this. */
  readonly requiredMl: number;
}

/**
 * The volume that a low-stress purge must exceed: the stabilized (not the initial) drawdown volume of the casing plus
 * the volume of the extraction tubing (US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13).
 * Worked, computed: casing 2.00 in, drawdown 0.25 ft: 0.154 L; 60 ft of tubing of 0.25 in: 0.579 L; together 0.734 L,
 * which is 3.67 min at 200 mL/min. A level above the static one adds no volume.
 */
export function minimumPurgeVolume(given: {
  readonly casingInsideDiameterIn: number;
  readonly drawdownFt: number;
  readonly tubingInsideDiameterIn: number;
  readonly tubingLengthFt: number;
}): MinimumPurge | Refusal {
  const drawdownMl = cylinderVolumeMl(given.casingInsideDiameterIn, Math.max(0, given.drawdownFt));
  if (isRefusal(drawdownMl)) return drawdownMl;
  const tubingMl = cylinderVolumeMl(given.tubingInsideDiameterIn, given.tubingLengthFt);
  if (isRefusal(tubingMl)) return tubingMl;
  return { drawdownMl, tubingMl, requiredMl: drawdownMl + tubingMl };
}
