import { firstWater } from '../../science/pump/first-water.ts';
import { wasteWater } from '../../science/pump/waste-water.ts';
import { readingIntervalMs, turnoverTimeMs } from '../../science/turnover-time.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import type { LinesFields } from './lines-part.ts';
import type { PlanInput } from './plan-input.ts';
import { type PlanPart, planPart, resultOr, withoutThese } from './plan-part.ts';

export interface WaterFields {
  readonly firstWaterSoonestMin: number | null;
  readonly firstWaterLatestMin: number | null;
  readonly readingIntervalMin: number | null;
  readonly wasteL: number | null;
  readonly drums: number | null;
}

const MS_PER_MIN = 60_000;

function first(given: PlanInput, lines: LinesFields, intakeFt: string) {
  const { flowMlPerMin, staticDepthToWaterFt } = given;
  const { waterLineFt, waterLineMl, pumpMl } = lines;
  if (flowMlPerMin === undefined || waterLineFt === null || waterLineMl === null || pumpMl === null)
    return { value: null, missing: ['The time to first water: give the flow, the water line and the pump volume.'] };
  const emptyFt = Math.max(0, Number(waterLineFt) - (Number(intakeFt) - Number(staticDepthToWaterFt)));
  const emptyMl = waterLineMl * Math.min(1, emptyFt / Number(waterLineFt));
  return resultOr(firstWater({ emptyMl, wholeMl: waterLineMl + pumpMl, flowMlPerMin: Number(flowMlPerMin) }));
}

function interval(given: PlanInput, { flowCellMl }: LinesFields) {
  const { readingIntervalMin, flowMlPerMin } = given;
  if (readingIntervalMin === undefined || flowMlPerMin === undefined || flowCellMl === null)
    return {
      value: null,
      missing: ['The reading interval: give readingIntervalMin, flowMlPerMin and the volume of the flow cell.'],
    };
  if (compareText(flowMlPerMin, '0') <= 0)
    return { value: null, missing: [`At ${flowMlPerMin} mL/min no cell is ever turned over: give a flow above 0.`] };
  const turnover = turnoverTimeMs(flowCellMl, flowMlPerMin);
  const leastMs = readingIntervalMs(Number(readingIntervalMin) * MS_PER_MIN, turnover);
  // Rounded up to a hundredth of a minute: one that is rounded down would not turn the cell over.
  return { value: Math.ceil(leastMs / 600) / 100, missing: [] };
}

function waste(given: PlanInput) {
  const { flowMlPerMin, purgeMin, deconL, drumUsableL } = given;
  const absent = withoutThese('Waste water', { flowMlPerMin, purgeMin, deconL });
  if (absent !== undefined) return { value: null, missing: [absent] };
  return resultOr(
    wasteWater({
      flowMlPerMin: Number(flowMlPerMin),
      purgeMin: Number(purgeMin),
      deconL: Number(deconL),
      drumUsableL: drumUsableL === undefined ? undefined : Number(drumUsableL),
    }),
  );
}

/** When water comes, how often to read, and where the water goes. */
export function waterPart(given: PlanInput, lines: LinesFields, intakeFt: string): PlanPart<WaterFields> {
  const water = first(given, lines, intakeFt);
  const between = interval(given, lines);
  const away = waste(given);
  return planPart(
    {
      firstWaterSoonestMin: water.value?.soonestMin ?? null,
      firstWaterLatestMin: water.value?.latestMin ?? null,
      readingIntervalMin: between.value,
      wasteL: away.value?.wasteL ?? null,
      drums: away.value?.drums ?? null,
    },
    { missing: [water, between, away].flatMap((one) => one.missing) },
  );
}
