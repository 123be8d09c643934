import { DEVICE_CLOCK_RULE } from './device-clock-flag.ts';
import type { FlagRule, FlagRuleEntry } from './flag-rule.ts';
import { bottlesAfterStop } from './rules/bottles-after-stop.ts';
import { bottlesBeforeCall } from './rules/bottles-before-call.ts';
import { callDiffers } from './rules/call-differs.ts';
import { carriedWithoutRight } from './rules/carried-without-right.ts';
import { conductanceMethodChanged } from './rules/conductance-method-changed.ts';
import { crewNoLongerAssigned } from './rules/crew-no-longer-assigned.ts';
import { drawdownNotSteady } from './rules/drawdown-not-steady.ts';
import { intakeAboveScreen } from './rules/intake-above-screen.ts';
import { intakeAboveWater } from './rules/intake-above-water.ts';
import { intakeBelowBottom } from './rules/intake-below-bottom.ts';
import { intakeNearBottom } from './rules/intake-near-bottom.ts';
import { leftWithoutOutcome } from './rules/left-without-outcome.ts';
import { limitWithoutChoice } from './rules/limit-without-choice.ts';
import { noLevelBeforePurge } from './rules/no-level-before-purge.ts';
import { oxygenAboveSaturation } from './rules/oxygen-above-saturation.ts';
import { oxygenFiguresDisagree } from './rules/oxygen-figures-disagree.ts';
import { oxygenWithNegativeOrp } from './rules/oxygen-with-negative-orp.ts';
import { percentOfOneAtmosphere } from './rules/percent-of-one-atmosphere.ts';
import { ptfeWithPfas } from './rules/ptfe-with-pfas.ts';
import { repeatedLines } from './rules/repeated-lines.ts';
import { sampleWithoutOutcome } from './rules/sample-without-outcome.ts';
import { sampledWithoutSample } from './rules/sampled-without-sample.ts';
import { soundingFitsAnotherWell } from './rules/sounding-fits-another-well.ts';
import { soundingFitsNoWell } from './rules/sounding-fits-no-well.ts';
import { stuckSensor } from './rules/stuck-sensor.ts';
import { turbidityInTwoUnits } from './rules/turbidity-in-two-units.ts';
import { valueNotBelievable } from './rules/value-not-believable.ts';
import { waterAboveMeasuringPoint } from './rules/water-above-measuring-point.ts';
import { waterAtIntake } from './rules/water-at-intake.ts';
import { waterBelowBottom } from './rules/water-below-bottom.ts';

/** The rules of a visit, in the order in which a visit goes. */
export const FLAG_RULES: readonly FlagRule[] = [
  soundingFitsAnotherWell,
  soundingFitsNoWell,
  waterBelowBottom,
  waterAboveMeasuringPoint,
  intakeAboveWater,
  intakeBelowBottom,
  intakeNearBottom,
  intakeAboveScreen,
  ptfeWithPfas,
  waterAtIntake,
  valueNotBelievable,
  turbidityInTwoUnits,
  oxygenFiguresDisagree,
  oxygenAboveSaturation,
  oxygenWithNegativeOrp,
  percentOfOneAtmosphere,
  conductanceMethodChanged,
  stuckSensor,
  repeatedLines,
  drawdownNotSteady,
  callDiffers,
  bottlesBeforeCall,
  bottlesAfterStop,
  limitWithoutChoice,
  noLevelBeforePurge,
  leftWithoutOutcome,
  sampledWithoutSample,
  sampleWithoutOutcome,
  crewNoLongerAssigned,
  carriedWithoutRight,
];

/** Every rule that may raise a flag, with what the catalogue says of it. */
export const FLAG_CATALOGUE: readonly FlagRuleEntry[] = [...FLAG_RULES, DEVICE_CLOCK_RULE];
