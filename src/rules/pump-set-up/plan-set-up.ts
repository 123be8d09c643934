import { standardPressureMmHg } from '../../science/oxygen/standard-atmosphere.ts';
import { isRefusal, type Refusal } from '../../science/refusal.ts';
import { checkList } from './check-list.ts';
import { type CycleFields, cyclePart } from './cycle-part.ts';
import { type DriveFields, drivePart } from './drive-part.ts';
import { frictionCaution } from './friction-caution.ts';
import { type GasFields, gasPart } from './gas-part.ts';
import { type IntakeFields, intakePart } from './intake-part.ts';
import { type KindAnswer, kindsFor } from './kinds-part.ts';
import { type LinesFields, linesPart } from './lines-part.ts';
import { knownSuites, type MaterialAnswer, materialsForSuites, partsAgainstSuites } from './materials-for-suites.ts';
import type { PlanInput } from './plan-input.ts';
import { type PlanPart, planPart } from './plan-part.ts';
import { type SuctionFields, suctionPart } from './suction-part.ts';
import { type WaterFields, waterPart } from './water-part.ts';

const M_PER_FT = 0.3048;

export interface SetUpPlan {
  readonly kinds: readonly KindAnswer[];
  readonly materials: readonly MaterialAnswer[];
  readonly partsAgainst: readonly string[];
  readonly checkList: readonly string[];
  readonly intake: IntakeFields;
  readonly suction: SuctionFields;
  readonly lines: LinesFields;
  readonly drive: DriveFields;
  readonly cycle: CycleFields;
  readonly gas: GasFields;
  readonly water: WaterFields;
}

function stationMmHg({ stationPressureMmHg, altitudeFt }: PlanInput): number | Refusal {
  return stationPressureMmHg === undefined
    ? standardPressureMmHg(Number(altitudeFt) * M_PER_FT)
    : Number(stationPressureMmHg);
}

function unknownSuites(unknown: readonly string[]): string[] {
  return unknown.map(
    (suite) => `No material was checked for "${suite}": its name says nothing here. Ask the laboratory.`,
  );
}

const VAPOUR =
  'Product or vapour: no compressor, battery or unrated meter near the casing; action levels are of the plan.';

const NO_CYCLE: CycleFields = {
  refillS: null,
  dischargeS: null,
  cyclesPerMin: null,
  strokeMl: null,
  collectionS: null,
};

/** The whole plan of a pump set-up, or why there is none. */
export function planSetUp(given: PlanInput): PlanPart<SetUpPlan> | Refusal {
  const station = stationMmHg(given);
  if (isRefusal(station)) return station;
  const intake = intakePart(given);
  if (isRefusal(intake)) return intake;
  const suction = suctionPart(given, station);
  if (isRefusal(suction)) return suction;
  const { intakeFt, submergenceFt } = intake.fields;
  const { groups, unknown } = knownSuites(given.suites);
  const kinds = kindsFor(given, intakeFt, suction.fields, groups);
  const lines = linesPart(given, intakeFt);
  const drive = drivePart(given, intakeFt, kinds);
  const byGas = kinds.some((one) => one.kind === 'bladder-pump' && one.serves !== 'no');
  const cycle = byGas ? cyclePart(given, submergenceFt, lines.fields.pumpMl) : planPart(NO_CYCLE);
  const gas = gasPart(given, { lines: lines.fields, drive: drive.fields, cycle: cycle.fields }, station);
  const water = waterPart(given, lines.fields, intakeFt);
  const parts = [intake, suction, lines, drive, cycle, gas, water];
  const ofMaterial = (given.units ?? []).flatMap(({ part, label, material }) =>
    material === undefined ? [] : [{ part: `${part} ${label}`, material }],
  );
  return planPart(
    {
      kinds,
      materials: materialsForSuites(groups),
      partsAgainst: partsAgainstSuites(ofMaterial, groups),
      checkList: checkList(given, kinds),
      intake: intake.fields,
      suction: suction.fields,
      lines: lines.fields,
      drive: drive.fields,
      cycle: cycle.fields,
      gas: gas.fields,
      water: water.fields,
    },
    {
      reasons: parts.flatMap((one) => one.reasons),
      cautions: [
        ...(given.productOrVapour ? [VAPOUR] : []),
        ...parts.flatMap((one) => one.cautions),
        ...frictionCaution(given, lines.fields, cycle.fields),
        ...unknownSuites(unknown),
      ],
      missing: parts.flatMap((one) => one.missing),
    },
  );
}
