import { cylinderVolumeMl } from '../../science/cylinder-volume.ts';
import { minimumPurgeVolume } from '../../science/minimum-purge-volume.ts';
import { isRefusal } from '../../science/refusal.ts';
import { lineLengths } from '../../science/tubing/line-lengths.ts';
import { outsideOverstates } from '../../science/tubing/outside-for-inside.ts';
import { systemVolume } from '../../science/tubing/system-volume.ts';
import { differenceText } from '../../science/units/decimal-arithmetic.ts';
import { placesText } from '../../science/units/significant-text.ts';
import type { PlanInput } from './plan-input.ts';
import { type PlanPart, planPart, resultOr } from './plan-part.ts';

export interface LinesFields {
  readonly waterLineFt: string | null;
  readonly airLineFt: string | null;
  readonly waterLineMl: number | null;
  readonly airLineMl: number | null;
  readonly pumpMl: number | null;
  readonly flowCellMl: string | null;
  readonly systemMl: number | null;
  /** The purge must be larger than this. */
  readonly minimumPurgeMl: number | null;
}

function volumeOf(given: PlanInput, part: 'pump' | 'flow-cell'): string | undefined {
  return given.units?.find((unit) => unit.part === part && unit.volumeMl !== undefined)?.volumeMl;
}

function lengths(given: PlanInput, pumpDepthFt: string) {
  const { waterLineAtSurfaceFt, airLineAtSurfaceFt } = given;
  if (waterLineAtSurfaceFt === undefined || airLineAtSurfaceFt === undefined)
    return { value: null, missing: ['Lengths of the lines: give waterLineAtSurfaceFt and airLineAtSurfaceFt.'] };
  return resultOr(lineLengths({ pumpDepthFt, waterLineAtSurfaceFt, airLineAtSurfaceFt }));
}

/** What it costs to count with the diameter that is printed on the bag. */
function outsideCaution({ waterTubingInsideDiameterIn: inside, waterTubingOutsideDiameterIn: outside }: PlanInput) {
  if (inside === undefined || outside === undefined) return { cautions: [], missing: [] };
  const times = outsideOverstates(Number(outside), Number(inside));
  if (isRefusal(times)) return { cautions: [], missing: [times.refused] };
  return {
    cautions: [
      `Volumes are of the inside diameter, ${inside} in; counted with ${outside} in outside they would be ${placesText(times, 2)} times as large.`,
    ],
    missing: [],
  };
}

function volumeMl(diameterIn: string | undefined, lengthFt: string | undefined, what: string) {
  if (diameterIn === undefined || lengthFt === undefined)
    return { value: null, missing: [`The volume of the ${what} line: give its inside diameter and its length.`] };
  return resultOr(cylinderVolumeMl(Number(diameterIn), Number(lengthFt)));
}

function purge(given: PlanInput, waterLineFt: string | undefined) {
  const tubing = given.waterTubingInsideDiameterIn;
  if (tubing === undefined || waterLineFt === undefined)
    return { value: null, missing: ['The minimum purge: give inside diameter and length of the water line.'] };
  const drawdownFt = differenceText(given.pumpingDepthToWaterFt, given.staticDepthToWaterFt);
  return resultOr(
    minimumPurgeVolume({
      casingInsideDiameterIn: Number(given.casingInsideDiameterIn),
      drawdownFt: Number(drawdownFt),
      tubingInsideDiameterIn: Number(tubing),
      tubingLengthFt: Number(waterLineFt),
    }),
  );
}

function system(given: PlanInput, waterLineFt: string | undefined) {
  const [pumpMl, flowCellMl] = [volumeOf(given, 'pump'), volumeOf(given, 'flow-cell')];
  const tubing = given.waterTubingInsideDiameterIn;
  if (pumpMl === undefined || flowCellMl === undefined || tubing === undefined || waterLineFt === undefined)
    return {
      value: null,
      missing: ['The volume of the system: give the volume of pump and flow cell, and inside diameter and length.'],
    };
  return resultOr(
    systemVolume({
      pumpMl: Number(pumpMl),
      flowCellMl: Number(flowCellMl),
      tubingInsideDiameterIn: Number(tubing),
      tubingLengthFt: Number(waterLineFt),
    }),
  );
}

/** What to cut, what it holds, and how much has to be purged at least. */
export function linesPart(given: PlanInput, intakeFt: string): PlanPart<LinesFields> {
  const lines = lengths(given, intakeFt);
  const water = volumeMl(given.waterTubingInsideDiameterIn, lines.value?.waterLineFt, 'water');
  const air = volumeMl(given.airTubingInsideDiameterIn, lines.value?.airLineFt, 'air');
  const whole = system(given, lines.value?.waterLineFt);
  const least = purge(given, lines.value?.waterLineFt);
  const outside = outsideCaution(given);
  const pump = volumeOf(given, 'pump');
  return planPart(
    {
      waterLineFt: lines.value?.waterLineFt ?? null,
      airLineFt: lines.value?.airLineFt ?? null,
      waterLineMl: water.value,
      airLineMl: air.value,
      pumpMl: pump === undefined ? null : Number(pump),
      flowCellMl: volumeOf(given, 'flow-cell') ?? null,
      systemMl: whole.value?.systemMl ?? null,
      minimumPurgeMl: least.value?.requiredMl ?? null,
    },
    {
      cautions: outside.cautions,
      missing: [lines, water, air, whole, least, outside].flatMap((one) => one.missing),
    },
  );
}
