import { casingSize } from '../../../catalog/well/casing-sizes.ts';
import { isRefusal, type Refusal, refuse } from '../../../science/refusal.ts';
import { placesText } from '../../../science/units/significant-text.ts';
import { diameterMisjudges } from '../../../science/well/casing-volume.ts';
import type { WellVolumeInput } from './volume-input.ts';

export interface CasingDiameter {
  readonly insideDiameterIn: string;
  /** From the table of sizes, where the nominal size is known. */
  readonly outsideDiameterIn: string | undefined;
  readonly reasons: readonly string[];
  readonly cautions: readonly string[];
}

/** How far off the nominal size would be: "Counted with the nominal 2 in it would be 6.4 % less." */
function misjudged(nominalIn: string, actualIn: string): string[] {
  const share = diameterMisjudges(Number(nominalIn), Number(actualIn));
  if (isRefusal(share) || share === 0) return [];
  const less = share < 0 ? 'less' : 'more';
  return [
    `Counted with the nominal ${nominalIn} in the volume would come out ${placesText(Math.abs(share) * 100, 1)} % ${less}.`,
  ];
}

/** The inside diameter to compute with: as recorded or measured, or else of the nominal size and schedule. */
export function casingDiameter(given: WellVolumeInput): CasingDiameter | Refusal {
  const { casingInsideDiameterIn: actual, nominalCasingIn: nominal, casingSchedule: schedule } = given;
  const size = nominal === undefined || schedule === undefined ? undefined : casingSize(nominal, schedule);
  if (actual !== undefined) {
    return {
      insideDiameterIn: actual,
      outsideDiameterIn: size?.outsideDiameterIn.value,
      reasons: nominal === undefined ? [] : misjudged(nominal, actual),
      cautions: [],
    };
  }
  if (nominal === undefined)
    return refuse('Neither the inside diameter of the casing nor its nominal size is given: give one of them.');
  if (schedule === undefined)
    return refuse(
      `A nominal ${nominal} in has another inside diameter in each schedule: give the schedule, or measure.`,
    );
  if (size === undefined)
    return refuse(`The inside diameter of ${nominal} in, schedule ${schedule}, is not in the table: measure it.`);
  const inside = size.insideDiameterIn;
  return {
    insideDiameterIn: inside.value,
    outsideDiameterIn: size.outsideDiameterIn.value,
    reasons: [
      `Nominal ${nominal} in, schedule ${schedule}, is ${inside.value} in inside (${inside.source ?? inside.status}).`,
      ...misjudged(nominal, inside.value),
    ],
    cautions: ['The inside diameter is from a table of sizes: the as-built record or a measurement goes before it.'],
  };
}
