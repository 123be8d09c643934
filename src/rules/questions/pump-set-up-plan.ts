import { z } from 'zod';
import { isRefusal } from '../../science/refusal.ts';
import { placesText, significantText } from '../../science/units/significant-text.ts';
import { pumpSetUpPlanInput } from '../pump-set-up/plan-input.ts';
import { NO_PLAN, planOutput } from '../pump-set-up/plan-output.ts';
import { planSetUp, type SetUpPlan } from '../pump-set-up/plan-set-up.ts';
import { PLAN_SOURCES } from '../pump-set-up/plan-sources.ts';
import { answered, DEFERS, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const DIGITS = 3;

function text(value: number | null): string | null {
  return value === null ? null : significantText(value, DIGITS);
}

function wellAndPump({ kinds, materials, partsAgainst, checkList, intake, suction }: SetUpPlan) {
  return {
    pumps: kinds.map((one) => ({ ...one, reasons: [...one.reasons] })),
    materials: materials.map((one) => ({ ...one, reasons: [...one.reasons] })),
    partsAgainst: [...partsAgainst],
    checkList: [...checkList],
    suctionLiftFt: suction.suctionLiftFt,
    suctionLimits: [...suction.suctionLimits],
    intakeFt: intake.intakeFt,
    clearFromFt: intake.clearFromFt,
    clearToFt: intake.clearToFt,
    submergenceFt: intake.submergenceFt,
    intakeConflicts: [...intake.intakeConflicts],
  };
}

function linesAndDrive({ lines, drive, cycle }: SetUpPlan) {
  return {
    waterLineFt: lines.waterLineFt,
    airLineFt: lines.airLineFt,
    waterLineMl: text(lines.waterLineMl),
    airLineMl: text(lines.airLineMl),
    systemMl: text(lines.systemMl),
    minimumPurgeMl: text(lines.minimumPurgeMl),
    drivePressures: [...drive.drivePressures],
    lowestRatedPart: drive.lowestRated?.part ?? null,
    lowestRatedPsi: drive.lowestRated?.maximumPsi ?? null,
    ratingsToRecord: [...drive.ratingsToRecord],
    refillS: cycle.refillS,
    dischargeS: cycle.dischargeS,
    cyclesPerMin: text(cycle.cyclesPerMin),
    strokeMl: text(cycle.strokeMl),
    collectionS: text(cycle.collectionS),
  };
}

function gasAndWater({ gas, water }: SetUpPlan) {
  return {
    gasPerCycleMl: text(gas.gasPerCycleMl),
    gasPerMinL: text(gas.gasPerMinL),
    cylinderCycles: gas.cylinderCycles,
    cylinderH: text(gas.cylinderH),
    batteryH: text(gas.batteryH),
    firstWaterSoonestMin: text(water.firstWaterSoonestMin),
    firstWaterLatestMin: text(water.firstWaterLatestMin),
    readingIntervalMin: water.readingIntervalMin === null ? null : placesText(water.readingIntervalMin, 2),
    wasteL: text(water.wasteL),
    drums: water.drums,
  };
}

export const pumpSetUpPlan = defineQuestion({
  name: 'pump-set-up-plan',
  title: 'Which pump goes into this well, and how is it set up?',
  description:
    'Kinds of pump that serve and that do not, each with its reason; materials for the suites; intake, lines, volumes, drive pressure by its three rules up to the recorded rating of the weakest part, first cycle, gas, waste water and a check list. A drive pressure is given only where the ratings of pump, tubing, fitting and regulator are recorded. A set-up already made is recorded whatever this says.',
  sources: PLAN_SOURCES,
  input: pumpSetUpPlanInput,
  output: z.strictObject({ ...planOutput, ...answerFields }),
  answer(given) {
    const plan = planSetUp(given);
    if (isRefusal(plan)) return { ...NO_PLAN, ...unanswered(plan, PLAN_SOURCES) };
    return {
      ...wellAndPump(plan.fields),
      ...linesAndDrive(plan.fields),
      ...gasAndWater(plan.fields),
      missing: [...plan.missing],
      ...answered(plan.reasons, PLAN_SOURCES, [
        ...plan.cautions,
        `Mind pressurised gas, batteries, lifting, traffic and lone work. ${DEFERS}`,
      ]),
    };
  },
});
