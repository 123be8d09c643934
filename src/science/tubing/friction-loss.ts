import { waterDensityKgPerM3 } from '../levels/water-density.ts';
import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { waterViscosityMPaS } from './water-viscosity.ts';

const PA_PER_PSI = 6_894.757293168361;
/** Above it the flow is no longer surely laminar. */
const LAMINAR_BELOW = 2_000;
const SMOOTH_BELOW = 100_000;

export interface FrictionLoss {
  readonly lossPsi: number;
  readonly reynolds: number;
}

/** How many times the laminar loss: 64 / Re is laminar, 0.316 / Re^0.25 is that of Blasius for smooth pipes. */
function timesLaminar(reynolds: number): number {
  return reynolds < LAMINAR_BELOW ? 1 : Math.max(1, 0.316 / reynolds ** 0.25 / (64 / reynolds));
}

/**
 * Pressure that the flow through a line costs: dP = 128 mu L Q / (pi D^4) while it is laminar, Hagen and Poiseuille; from
 * a Reynolds number of 2,000 on the larger one of this and of Blasius for smooth pipes. The flow of a bladder pump is that
 * during discharge: the mean flow times cycle over discharge.
 *
 * Source: Hagen-Poiseuille, computed; Blasius 1913, f = 0.316 / Re^0.25, from memory. Limits: a Reynolds number below
 * 100,000; 0 to 40 °C; straight smooth tubing without fittings; between 2,000 and 4,000 nothing is exact, and the larger
 * figure is taken.
 *
 * @example frictionLoss({ insideDiameterIn: 0.17, lengthFt: 50, flowMlPerMin: 500, waterTemperatureC: 10 }) // 2.82 psi
 */
export function frictionLoss(given: {
  readonly insideDiameterIn: number;
  readonly lengthFt: number;
  readonly flowMlPerMin: number;
  readonly waterTemperatureC: number;
}): FrictionLoss | Refusal {
  const { insideDiameterIn, lengthFt, flowMlPerMin } = given;
  if (!(insideDiameterIn > 0 && lengthFt >= 0 && flowMlPerMin >= 0))
    return refuse(
      `A line of ${insideDiameterIn} in, ${lengthFt} ft, with ${flowMlPerMin} mL/min: give a diameter above 0, length and flow of 0 or more.`,
    );
  const viscosity = waterViscosityMPaS(given.waterTemperatureC);
  if (isRefusal(viscosity)) return viscosity;
  const density = waterDensityKgPerM3(given.waterTemperatureC);
  if (isRefusal(density)) return density;
  const diameterM = insideDiameterIn * 0.0254;
  const flowM3PerS = flowMlPerMin / 60e6;
  const reynolds = (4 * density * flowM3PerS) / (Math.PI * diameterM * viscosity * 1e-3);
  if (!(reynolds < SMOOTH_BELOW))
    return refuse(
      `${flowMlPerMin} mL/min in ${insideDiameterIn} in is a Reynolds number of ${Math.round(reynolds)}, outside the formula: use a wider line or less flow.`,
    );
  const lossPa = (128 * viscosity * 1e-3 * lengthFt * 0.3048 * flowM3PerS) / (Math.PI * diameterM ** 4);
  return { lossPsi: (lossPa / PA_PER_PSI) * timesLaminar(reynolds), reynolds };
}
