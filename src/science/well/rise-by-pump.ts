import { cylinderVolumeMl } from '../cylinder-volume.ts';
import { isRefusal, type Refusal, refuse } from '../refusal.ts';

export interface PumpInWell {
  readonly casingInsideDiameterIn: number;
  readonly pumpDiameterIn: number;
  readonly pumpLengthFt: number;
  /** Of every line, cable and hose that goes down with it. */
  readonly lineOutsideDiametersIn: readonly number[];
  /** How far below the undisturbed water the top of the pump will hang. */
  readonly pumpTopBelowWaterFt: number;
}

export interface RiseByPump {
  readonly riseFt: number;
  /** Water that the pump and its lines take the place of. */
  readonly displacedMl: number;
}

function square(diameterIn: number): number {
  return diameterIn * diameterIn;
}

function notALength(name: string, value: number): Refusal {
  return refuse(`A ${name} of ${value} is no measure: give it as a finite number of at least 0.`);
}

function whyNot(given: PumpInWell): Refusal | undefined {
  const lines = given.lineOutsideDiametersIn;
  const wrong = lines.find((line) => !(line >= 0));
  if (wrong !== undefined) return notALength('line diameter in inches', wrong);
  if (!(given.pumpTopBelowWaterFt >= 0))
    return notALength('depth of the pump below the water in feet', given.pumpTopBelowWaterFt);
  if (given.pumpDiameterIn >= given.casingInsideDiameterIn)
    return refuse(
      `A pump of ${given.pumpDiameterIn} in does not go into a casing of ${given.casingInsideDiameterIn} in inside: choose a thinner one.`,
    );
  const bundle = lines.reduce((sum, line) => sum + square(line), 0);
  if (bundle >= square(given.casingInsideDiameterIn))
    return refuse(
      `Lines of ${lines.join(', ')} in do not go into a casing of ${given.casingInsideDiameterIn} in inside.`,
    );
  return undefined;
}

/**
 * By how much a pump lifts the water as it goes in, before any of it has flowed back through the screen:
 * rise = (d_p^2 L + sum d_l^2 s) / (D^2 - sum d_l^2), with s the depth of the top of the pump below the undisturbed
 * water. A pump of 1.5 in and 2.0 ft in a casing of 2.067 in lifts it by 1.05 ft. A drawdown counted from this level, or
 * from one before it has fallen back, is counted from the wrong level.
 *
 * Source: displacement, computed. Limits: the whole pump under water; a tight casing. Water flows back through a screen
 * within minutes in sand and within hours in clay.
 *
 * @example riseByPump({ casingInsideDiameterIn: 2.067, pumpDiameterIn: 1.5, pumpLengthFt: 2, lineOutsideDiametersIn: [],
 *   pumpTopBelowWaterFt: 10 }) // riseFt: 1.05
 */
export function riseByPump(given: PumpInWell): RiseByPump | Refusal {
  const reason = whyNot(given);
  if (reason) return reason;
  const pump = cylinderVolumeMl(given.pumpDiameterIn, given.pumpLengthFt);
  if (isRefusal(pump)) return pump;
  const lines = given.lineOutsideDiametersIn.reduce((sum, line) => sum + square(line), 0);
  const solidSquareInchFeet = square(given.pumpDiameterIn) * given.pumpLengthFt + lines * given.pumpTopBelowWaterFt;
  const riseFt = solidSquareInchFeet / (square(given.casingInsideDiameterIn) - lines);
  const displacedMl = cylinderVolumeMl(given.casingInsideDiameterIn, riseFt);
  return isRefusal(displacedMl) ? displacedMl : { riseFt, displacedMl };
}
