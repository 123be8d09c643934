import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { compareText, differenceText } from '../../science/units/decimal-arithmetic.ts';
import { casingVolume } from '../../science/well/casing-volume.ts';
import { type Recovered, recoveryOfColumn, recoveryOfDrawdown } from '../../science/well/recovery.ts';
import { minutesToRecover } from '../../science/well/recovery-forecast.ts';

/** The two things that "80 % recovered" may be of. */
export const RECOVERY_MEANINGS = ['drawdown', 'water-column'] as const;
export type RecoveryMeaning = (typeof RECOVERY_MEANINGS)[number];

/** What is known of a well that was pumped down; depths are below one measuring point. */
export interface RecoveringWell {
  readonly staticDepthToWaterFt?: string | undefined;
  readonly depthToWaterFt?: string | undefined;
  readonly lowestDepthToWaterFt?: string | undefined;
  readonly depthToBottomFt?: string | undefined;
  readonly intakeDepthFt?: string | undefined;
  readonly casingInsideDiameterIn?: string | undefined;
  readonly neededMl?: string | undefined;
  /** Whether there is enough for the bottles, as the crew sees it; it goes before what can be counted. */
  readonly enoughWater?: boolean | undefined;
  readonly sinceStoppedH?: string | undefined;
  readonly earlierDepthToWaterFt?: string | undefined;
  readonly sinceEarlierMin?: string | undefined;
}

export type Shares = Readonly<Record<RecoveryMeaning, Recovered | Refusal>>;

function drawdownShare({ staticDepthToWaterFt, depthToWaterFt, lowestDepthToWaterFt }: RecoveringWell) {
  if (staticDepthToWaterFt === undefined || depthToWaterFt === undefined || lowestDepthToWaterFt === undefined)
    return refuse('The share of the drawdown needs the static level, the lowest one and the level now.');
  return recoveryOfDrawdown({ staticFt: staticDepthToWaterFt, lowestFt: lowestDepthToWaterFt, nowFt: depthToWaterFt });
}

function columnShare({ staticDepthToWaterFt, depthToWaterFt, depthToBottomFt }: RecoveringWell) {
  if (staticDepthToWaterFt === undefined || depthToWaterFt === undefined || depthToBottomFt === undefined)
    return refuse('The share of the water column needs the static level, the level now and the depth to the bottom.');
  return recoveryOfColumn({ staticFt: staticDepthToWaterFt, bottomFt: depthToBottomFt, nowFt: depthToWaterFt });
}

/** How much has come back, in both meanings, each with the reason where it cannot be told. */
export function recoveryShares(well: RecoveringWell): Shares {
  return { drawdown: drawdownShare(well), 'water-column': columnShare(well) };
}

function shallower(a: string | undefined, b: string | undefined): string | undefined {
  if (a === undefined || b === undefined) return a ?? b;
  return compareText(a, b) <= 0 ? a : b;
}

/** Water in the casing that the pump can draw: above the intake, or above the bottom where no intake is known; in mL. */
export function drawableMl(well: RecoveringWell): number | null {
  const floorFt = shallower(well.intakeDepthFt, well.depthToBottomFt);
  const { depthToWaterFt, casingInsideDiameterIn } = well;
  if (floorFt === undefined || depthToWaterFt === undefined || casingInsideDiameterIn === undefined) return null;
  const waterColumnFt = Math.max(0, Number(differenceText(floorFt, depthToWaterFt)));
  const volume = casingVolume({ insideDiameterIn: Number(casingInsideDiameterIn), waterColumnFt });
  return isRefusal(volume) ? null : volume.ml;
}

/** Whether there is water enough for the bottles; null where nobody said and it cannot be counted. */
export function enoughWater(well: RecoveringWell): boolean | null {
  if (well.enoughWater !== undefined) return well.enoughWater;
  const ml = drawableMl(well);
  return ml === null || well.neededMl === undefined ? null : ml >= Number(well.neededMl);
}

/** The length that a share is of: the drawdown or the column, in feet below the static level. */
function wholeFt(well: RecoveringWell, meaning: RecoveryMeaning): number {
  const lowest = meaning === 'drawdown' ? well.lowestDepthToWaterFt : well.depthToBottomFt;
  return Number(lowest) - Number(well.staticDepthToWaterFt);
}

/** Minutes until so many percent are back, if the water keeps rising as it did between two levels; null where unknown. */
export function minutesUntil(well: RecoveringWell, meaning: RecoveryMeaning, percent: string): number | null {
  const { staticDepthToWaterFt, depthToWaterFt, earlierDepthToWaterFt, sinceEarlierMin } = well;
  if (earlierDepthToWaterFt === undefined || sinceEarlierMin === undefined) return null;
  const below = (depthFt: string | undefined) => Number(depthFt) - Number(staticDepthToWaterFt);
  const minutes = minutesToRecover({
    residualDrawdown1Ft: below(earlierDepthToWaterFt),
    residualDrawdown2Ft: below(depthToWaterFt),
    minutesBetween: Number(sinceEarlierMin),
    share: Number(percent) / 100,
    wholeDrawdownFt: wholeFt(well, meaning),
  });
  return isRefusal(minutes) ? null : minutes;
}
