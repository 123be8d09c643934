import { SET_UP_RULES } from '../../catalog/pumps/set-up-rules.ts';
import { isRefusal } from '../../science/refusal.ts';
import { frictionLoss } from '../../science/tubing/friction-loss.ts';
import { significantText } from '../../science/units/significant-text.ts';
import type { CycleFields } from './cycle-part.ts';
import type { LinesFields } from './lines-part.ts';
import type { PlanInput } from './plan-input.ts';

/** Whether the allowance covers the friction during discharge, when all of the cycle's water moves in a part of it. */
export function frictionCaution(given: PlanInput, { waterLineFt }: LinesFields, cycle: CycleFields): string[] {
  const { flowMlPerMin, waterTubingInsideDiameterIn, waterTemperatureC } = given;
  const { dischargeS, cyclesPerMin } = cycle;
  if (flowMlPerMin === undefined || waterTubingInsideDiameterIn === undefined || waterLineFt === null) return [];
  if (dischargeS === null || cyclesPerMin === null) return [];
  const loss = frictionLoss({
    insideDiameterIn: Number(waterTubingInsideDiameterIn),
    lengthFt: Number(waterLineFt),
    flowMlPerMin: (Number(flowMlPerMin) * 60) / cyclesPerMin / Number(dischargeS),
    waterTemperatureC: Number(waterTemperatureC),
  });
  if (isRefusal(loss)) return [`Friction during discharge is not computed. ${loss.refused}`];
  const allowancePsi = given.allowancePsi ?? SET_UP_RULES.allowancePsi.value;
  if (loss.lossPsi <= Number(allowancePsi)) return [];
  return [
    `Friction during discharge is about ${significantText(loss.lossPsi, 2)} psi, more than the allowance of ${allowancePsi} psi: a wider water line or less flow.`,
  ];
}
