import { SET_UP_RULES } from '../../catalog/pumps/set-up-rules.ts';
import {
  type DrivePressure,
  feetOfWaterDrivePressure,
  halfPsiAFootDrivePressure,
  hydrostaticDrivePressure,
  PSI_PER_FT_OF_WATER,
} from '../../science/pump/drive-pressure.ts';
import {
  type CarryingPart,
  FURTHER_PRESSURE_PARTS,
  type LowestRated,
  lowestRatedPart,
  PRESSURE_PARTS,
  type RatedPart,
  ratingsToRecord,
} from '../../science/pump/lowest-rated-part.ts';
import { pressuresWithinRating } from '../../science/pump/pressures-within-rating.ts';
import { isRefusal, type Refusal } from '../../science/refusal.ts';
import { compareText, roundedText, sumText } from '../../science/units/decimal-arithmetic.ts';
import type { KindAnswer } from './kinds-part.ts';
import type { PlanInput, UnitAtHand } from './plan-input.ts';
import { type PlanPart, planPart } from './plan-part.ts';

export interface PressureLine {
  readonly rule: DrivePressure['rule'];
  readonly fromPsi: string;
  readonly toPsi: string;
  readonly fromFtOfWater: number;
  readonly toFtOfWater: number;
}

export interface DriveFields {
  readonly drivePressures: readonly PressureLine[];
  readonly lowestRated: LowestRated | null;
  readonly ratingsToRecord: readonly string[];
}

const NONE: DriveFields = { drivePressures: [], lowestRated: null, ratingsToRecord: [] };

function carries(part: string): part is CarryingPart {
  return [...PRESSURE_PARTS, ...FURTHER_PRESSURE_PARTS].some((one) => one === part);
}

/** Pumps of another kind carry no gas; one whose kind is not said may. */
function rated({ part, label, pumpKind, maximumPsi }: UnitAtHand): RatedPart[] {
  const otherPump = part === 'pump' && pumpKind !== undefined && pumpKind !== 'bladder-pump';
  return carries(part) && !otherPump ? [{ part, label, maximumPsi }] : [];
}

function rounded({ rule, fromPsi, toPsi }: DrivePressure): DrivePressure {
  return { rule, fromPsi: roundedText(fromPsi, -1), toPsi: roundedText(toPsi, -1) };
}

/** By whole feet, as a gauge in feet of water is read; never more than the rating is. */
function feetOfWater(psi: string, maximumPsi: string): number {
  const perFt = Number(PSI_PER_FT_OF_WATER);
  return Math.min(Math.round(Number(psi) / perFt), Math.floor(Number(maximumPsi) / perFt));
}

function rules(given: PlanInput, intakeFt: string): DrivePressure[] | Refusal {
  const belowOutletFt = sumText(intakeFt, given.outletAboveMeasuringPointFt ?? '0');
  const allowancePsi = given.allowancePsi ?? SET_UP_RULES.allowancePsi.value;
  const found: DrivePressure[] = [];
  for (const one of [
    feetOfWaterDrivePressure(intakeFt),
    hydrostaticDrivePressure(belowOutletFt, allowancePsi),
    halfPsiAFootDrivePressure(belowOutletFt),
  ]) {
    if (isRefusal(one)) return one;
    found.push(rounded(one));
  }
  return found;
}

function cutCautions(cut: readonly string[], allowed: number, { part, label, maximumPsi }: LowestRated): string[] {
  if (allowed === 0)
    return [
      `No pressure is given: the least of the rules is above ${maximumPsi} psi, the rating of the ${part} ${label}. Use parts that carry more, or another pump.`,
    ];
  return cut.length === 0
    ? []
    : [`Never above ${maximumPsi} psi, the rating of the ${part} ${label}; higher figures of the rules are left out.`];
}

function regulatorCautions({ regulatorPsi }: PlanInput, { part, label, maximumPsi }: LowestRated): string[] {
  if (regulatorPsi === undefined || compareText(regulatorPsi, maximumPsi) <= 0) return [];
  return [
    `The regulator gives ${regulatorPsi} psi, more than the ${maximumPsi} psi that the ${part} ${label} carries: set it lower before anything is connected.`,
  ];
}

const ALWAYS = [
  'Begin with the lowest pressure and raise it only as far as water needs; vent the line before anything is disconnected.',
  'The depth for the pressure is that of the pump, not of the water.',
];

/** Drive pressure of a bladder pump, lowest first, up to the rating of the weakest part; without ratings what to record. */
export function drivePart(given: PlanInput, intakeFt: string, kinds: readonly KindAnswer[]): PlanPart<DriveFields> {
  if (kinds.some((one) => one.kind === 'bladder-pump' && one.serves === 'no'))
    return planPart(NONE, { reasons: ['No drive pressure: no bladder pump serves here.'] });
  const parts = (given.units ?? []).flatMap(rated);
  const toRecord = ratingsToRecord(parts);
  const weakest = lowestRatedPart(parts);
  if (isRefusal(weakest)) return planPart({ ...NONE, ratingsToRecord: toRecord }, { missing: [weakest.refused] });
  const pressures = rules(given, intakeFt);
  if (isRefusal(pressures)) return planPart(NONE, { missing: [pressures.refused] });
  const { maximumPsi } = weakest;
  const { allowed, cut } = pressuresWithinRating(pressures, maximumPsi);
  const lines = allowed.map((one) => ({
    ...one,
    fromFtOfWater: feetOfWater(one.fromPsi, maximumPsi),
    toFtOfWater: feetOfWater(one.toPsi, maximumPsi),
  }));
  return planPart(
    { drivePressures: lines, lowestRated: weakest, ratingsToRecord: [] },
    {
      reasons: [
        `Pressures are gauge pressures for a pump at ${intakeFt} ft, up to the ${maximumPsi} psi of the ${weakest.part} ${weakest.label}; 10 to 20 ft of water over the depth give roughly ${SET_UP_RULES.firstFlowMlPerMin.value} mL/min.`,
      ],
      cautions: [...cutCautions(cut, allowed.length, weakest), ...regulatorCautions(given, weakest), ...ALWAYS],
    },
  );
}
