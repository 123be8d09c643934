import { calibrationBracket } from './calibration-bracket.ts';
import { conductivityStandard } from './conductivity-standard.ts';
import { convertUnit } from './convert-unit.ts';
import { deconComplete } from './decon-complete.ts';
import { deconProtocol } from './decon-protocol.ts';
import { drawdownForecast } from './drawdown-forecast.ts';
import { drawdownRules } from './drawdown-rules.ts';
import { flowingWellLevel } from './flowing-well-level.ts';
import { groundwaterElevation } from './groundwater-elevation.ts';
import { horizontalGradient } from './horizontal-gradient.ts';
import { intakePosition } from './intake-position.ts';
import { lastRound } from './last-round.ts';
import { lowYieldWell } from './low-yield-well.ts';
import { meterCheck } from './meter-check.ts';
import { meterUsableNow } from './meter-usable-now.ts';
import { orpCheckSolution } from './orp-check-solution.ts';
import { orpToEh } from './orp-to-eh.ts';
import { oxygenSaturation } from './oxygen-saturation.ts';
import { phBuffer } from './ph-buffer.ts';
import { phSlope } from './ph-slope.ts';
import { productCorrection } from './product-correction.ts';
import { pumpSetUpPlan } from './pump-set-up-plan.ts';
import { purgePlausibility } from './purge-plausibility.ts';
import type { Question } from './question.ts';
import { shortWater } from './short-water.ts';
import { specificConductance } from './specific-conductance.ts';
import { stabilizationForecast } from './stabilization-forecast.ts';
import { stationPressure } from './station-pressure.ts';
import { tapeOutOfPlumb } from './tape-out-of-plumb.ts';
import { tidalMeanLevel } from './tidal-mean-level.ts';
import { turbidityReport } from './turbidity-report.ts';
import { unlikeThisWell } from './unlike-this-well.ts';
import { verticalGradient } from './vertical-gradient.ts';
import { waterLevelRepeat } from './water-level-repeat.ts';
import { waterLiftedByPump } from './water-lifted-by-pump.ts';
import { wellIdentity } from './well-identity.ts';
import { wellRecovery } from './well-recovery.ts';
import { wellTrend } from './well-trend.ts';
import { wellVolume } from './well-volume.ts';

/** Every question that the doors mount, in the order of their names. */
export const QUESTIONS: readonly Question[] = [
  calibrationBracket,
  conductivityStandard,
  convertUnit,
  deconComplete,
  deconProtocol,
  drawdownForecast,
  drawdownRules,
  flowingWellLevel,
  groundwaterElevation,
  horizontalGradient,
  intakePosition,
  lastRound,
  lowYieldWell,
  meterCheck,
  meterUsableNow,
  orpCheckSolution,
  orpToEh,
  oxygenSaturation,
  phBuffer,
  phSlope,
  productCorrection,
  pumpSetUpPlan,
  purgePlausibility,
  shortWater,
  specificConductance,
  stabilizationForecast,
  stationPressure,
  tapeOutOfPlumb,
  tidalMeanLevel,
  turbidityReport,
  unlikeThisWell,
  verticalGradient,
  waterLevelRepeat,
  waterLiftedByPump,
  wellIdentity,
  wellRecovery,
  wellTrend,
  wellVolume,
];

const BY_NAME: ReadonlyMap<string, Question> = new Map(QUESTIONS.map((question) => [question.name, question]));

export function questionNamed(name: string): Question | undefined {
  return BY_NAME.get(name);
}
