import { pressureRefusal } from '../oxygen/pressure-factor.ts';
import { type Refusal, refuse } from '../refusal.ts';

const PSI_PER_MMHG = 133.322387415 / 6_894.757293168361;

/** What the gas fills on each stroke, at which gauge pressure. */
export interface GasSpace {
  readonly airLineMl: number;
  readonly chamberMl: number;
  readonly drivePsi: number;
}

export function gasSpaceRefusal({ airLineMl, chamberMl, drivePsi }: GasSpace): Refusal | undefined {
  if (airLineMl >= 0 && chamberMl >= 0 && airLineMl + chamberMl > 0 && drivePsi > 0) return undefined;
  return refuse(
    `An air line of ${airLineMl} mL and a chamber of ${chamberMl} mL at ${drivePsi} psi use no gas: give the inside of both in mL and a pressure above 0 psi.`,
  );
}

/**
 * Gas that is vented on each cycle, as it fills at the pressure of the air around: V = (V_line + V_chamber) P_gauge /
 * P_air, by Boyle. At altitude the same gas fills more, for the air is thinner.
 *
 * Source: Boyle's law, isothermal, computed; no primary example of a bladder pump was found. Limits: the whole line is
 * vented on each cycle; leaks come on top.
 *
 * @param stationPressureMmHg of the air at the station
 * @returns millilitres of free gas
 * @example gasPerCycleMl({ airLineMl: 223.2, chamberMl: 150, drivePsi: 31.7 }, 760) // 805
 */
export function gasPerCycleMl(space: GasSpace, stationPressureMmHg: number): number | Refusal {
  const wrong = gasSpaceRefusal(space) ?? pressureRefusal(stationPressureMmHg);
  if (wrong) return wrong;
  return ((space.airLineMl + space.chamberMl) * space.drivePsi) / (stationPressureMmHg * PSI_PER_MMHG);
}
