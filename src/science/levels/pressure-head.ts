import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { waterDensityKgPerM3 } from './water-density.ts';

const PA_PER_PSI = 6_894.757293168361;
const STANDARD_GRAVITY = 9.80665;
const M_PER_FT = 0.3048;

/**
 * Height of fresh water that a gauge pressure carries: h = p / (rho g). 1 psi carries 2.307 ft at 10 °C.
 *
 * Source: hydrostatics with the density of water at its temperature; standard gravity. Limits: gauge pressure (zero in
 * the open air), water at rest, one temperature in the column, fresh water.
 *
 * @example pressureHeadFt(5.0, 10) // 11.54
 */
export function pressureHeadFt(gaugePressurePsi: number, waterTemperatureC: number): number | Refusal {
  if (!(gaugePressurePsi >= 0))
    return refuse(
      `A gauge pressure of ${gaugePressurePsi} psi carries no water: read the gauge again; one that pulls is no shut-in pressure.`,
    );
  const density = waterDensityKgPerM3(waterTemperatureC);
  if (isRefusal(density)) return density;
  return (gaugePressurePsi * PA_PER_PSI) / (density * STANDARD_GRAVITY) / M_PER_FT;
}

/**
 * Level of a flowing well that is shut in: as a depth to water, negative for it is above the measuring point, the head
 * on the gauge plus the height of the gauge above the point.
 *
 * Source: as above; a flowing well has no depth to water to tape. Limits: the pressure has come to rest.
 *
 * @param gaugeAboveMeasuringPointFt negative for a gauge below the point
 * @example flowingDepthToWaterFt({ gaugePressurePsi: 5, waterTemperatureC: 10, gaugeAboveMeasuringPointFt: 0.5 }) // -12.04
 */
export function flowingDepthToWaterFt(given: {
  readonly gaugePressurePsi: number;
  readonly waterTemperatureC: number;
  readonly gaugeAboveMeasuringPointFt: number;
}): number | Refusal {
  if (!Number.isFinite(given.gaugeAboveMeasuringPointFt))
    return refuse(
      `A gauge ${given.gaugeAboveMeasuringPointFt} ft above the measuring point has no place: measure its height.`,
    );
  const head = pressureHeadFt(given.gaugePressurePsi, given.waterTemperatureC);
  return isRefusal(head) ? head : -(head + given.gaugeAboveMeasuringPointFt);
}
