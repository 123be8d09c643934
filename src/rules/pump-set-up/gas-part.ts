import { batteryLifeH } from '../../science/pump/battery-life.ts';
import { cylinderCycles } from '../../science/pump/cylinder-life.ts';
import { type GasSpace, gasPerCycleMl } from '../../science/pump/gas-per-cycle.ts';
import type { CycleFields } from './cycle-part.ts';
import type { DriveFields } from './drive-part.ts';
import type { LinesFields } from './lines-part.ts';
import type { PlanInput } from './plan-input.ts';
import { type PlanPart, planPart, resultOr, withoutThese } from './plan-part.ts';

export interface GasFields {
  readonly gasPerCycleMl: number | null;
  readonly gasPerMinL: number | null;
  readonly cylinderCycles: number | null;
  readonly cylinderH: number | null;
  readonly batteryH: number | null;
}

const NO_SPACE = 'Gas: it needs a drive pressure, the air line and the chamber of the pump.';

/** At the highest pressure that is given: what is loaded on the truck shall be enough. */
function space({ airLineMl, pumpMl }: LinesFields, { drivePressures }: DriveFields): GasSpace | null {
  const highest = Math.max(...drivePressures.map((one) => Number(one.toPsi)));
  if (airLineMl === null || pumpMl === null || drivePressures.length === 0) return null;
  return { airLineMl, chamberMl: pumpMl, drivePsi: highest };
}

function cylinder({ cylinderL, cylinderPsi, regulatorPsi }: PlanInput, gas: GasSpace) {
  const absent = withoutThese('How long a cylinder lasts', { cylinderL, cylinderPsi, regulatorPsi });
  if (absent !== undefined) return { value: null, missing: [absent] };
  return resultOr(
    cylinderCycles(
      { cylinderL: Number(cylinderL), cylinderPsi: Number(cylinderPsi), regulatorPsi: Number(regulatorPsi) },
      gas,
    ),
  );
}

function battery({ batteryAh, batteryUsablePercent, batteryDrawA }: PlanInput) {
  const absent = withoutThese('How long a battery lasts', { batteryAh, batteryUsablePercent, batteryDrawA });
  if (absent !== undefined) return { value: null, missing: [absent] };
  return resultOr(
    batteryLifeH({
      capacityAh: Number(batteryAh),
      usablePercent: Number(batteryUsablePercent),
      drawA: Number(batteryDrawA),
    }),
  );
}

/** Gas and battery. */
export function gasPart(
  given: PlanInput,
  parts: { readonly lines: LinesFields; readonly drive: DriveFields; readonly cycle: CycleFields },
  stationMmHg: number,
): PlanPart<GasFields> {
  const { value: batteryH, missing } = battery(given);
  const gas = space(parts.lines, parts.drive);
  const perMin = parts.cycle.cyclesPerMin;
  if (gas === null || perMin === null)
    return planPart(
      { gasPerCycleMl: null, gasPerMinL: null, cylinderCycles: null, cylinderH: null, batteryH },
      { missing: [...(perMin === null ? [] : [NO_SPACE]), ...missing] },
    );
  const vented = resultOr(gasPerCycleMl(gas, stationMmHg));
  const cycles = cylinder(given, gas);
  return planPart(
    {
      gasPerCycleMl: vented.value,
      gasPerMinL: vented.value === null ? null : (vented.value * perMin) / 1_000,
      cylinderCycles: cycles.value,
      cylinderH: cycles.value === null ? null : cycles.value / perMin / 60,
      batteryH,
    },
    {
      reasons: [`Gas is counted at ${gas.drivePsi} psi, the highest pressure given, without leaks.`],
      missing: [...vented.missing, ...cycles.missing, ...missing],
    },
  );
}
