import { type Refusal, refuse } from '../refusal.ts';
import { type GasSpace, gasSpaceRefusal } from './gas-per-cycle.ts';

/**
 * How many cycles a cylinder of gas lasts: n = V_cylinder (P_cylinder - P_regulator) / ((V_line + V_chamber) P_drive).
 * What is left at the pressure of the regulator cannot be used.
 *
 * Source: Boyle's law, isothermal, ideal gas, computed. Limits: compressed gas, none that is liquid in the cylinder; a
 * warm gauge in the sun reads too high; leaks come on top.
 *
 * @returns whole cycles
 * @example cylinderCycles({ cylinderL: 10, cylinderPsi: 2000, regulatorPsi: 100 }, { airLineMl: 223.2, chamberMl: 150,
 *   drivePsi: 31.7 }) // 1606
 */
export function cylinderCycles(
  cylinder: { readonly cylinderL: number; readonly cylinderPsi: number; readonly regulatorPsi: number },
  space: GasSpace,
): number | Refusal {
  const { cylinderL, cylinderPsi, regulatorPsi } = cylinder;
  const wrong = gasSpaceRefusal(space);
  if (wrong) return wrong;
  if (!(cylinderL > 0 && cylinderPsi >= 0 && regulatorPsi >= space.drivePsi))
    return refuse(
      `A cylinder of ${cylinderL} L at ${cylinderPsi} psi with ${regulatorPsi} psi behind the regulator does not drive ${space.drivePsi} psi: give its water volume and gauge pressures, the regulator at or above the drive pressure.`,
    );
  const usable = cylinderL * 1_000 * Math.max(0, cylinderPsi - regulatorPsi);
  return Math.floor(usable / ((space.airLineMl + space.chamberMl) * space.drivePsi));
}
