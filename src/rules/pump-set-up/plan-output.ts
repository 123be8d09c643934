import { z } from 'zod';
import { MATERIAL_NAMES } from '../../catalog/materials/wetted-materials.ts';
import { PUMP_KINDS } from '../../catalog/pumps/pump-kinds.ts';
import { FURTHER_PRESSURE_PARTS, PRESSURE_PARTS } from '../../science/pump/lowest-rated-part.ts';

function figure(description: string) {
  return z.string().nullable().describe(description);
}

function list<T extends z.ZodObject>(item: T, description: string) {
  return z.array(item).describe(description);
}

const kind = z.strictObject({
  kind: z.enum(PUMP_KINDS),
  serves: z.enum(['yes', 'with-conditions', 'no']),
  reasons: z.array(z.string()),
});

const limit = z.strictObject({
  by: z.enum(['common-practice', 'practical-table', 'physics', 'plan']),
  limitFt: z.string(),
  passes: z.boolean(),
  source: z.string(),
});

const material = z.strictObject({
  material: z.enum(MATERIAL_NAMES),
  written: z.string(),
  suitability: z.enum(['suits', 'with-care', 'does-not-suit']),
  reasons: z.array(z.string()),
});

const conflict = z.strictObject({
  kind: z.enum(['above-water', 'above-saturated-top', 'below-interval', 'below-bottom', 'near-bottom']),
  because: z.string(),
});

const pressure = z.strictObject({
  rule: z.enum(['depth-and-feet-of-water', 'hydrostatic-and-allowance', 'half-psi-a-foot']),
  fromPsi: z.string(),
  toPsi: z.string(),
  fromFtOfWater: z.int(),
  toFtOfWater: z.int(),
});

/** The answer of a plan, beside reasons, cautions and sources. */
export const planOutput = {
  pumps: list(kind, 'Every kind of pump, and why it serves or does not'),
  suctionLiftFt: figure('From the pumping level to the head of a suction pump'),
  suctionLimits: list(limit, 'What it is measured against; the least decides'),
  materials: list(material, 'Materials for the suites; empty where no suite is known here'),
  partsAgainst: z.array(z.string()).describe('Parts at hand whose material speaks against them'),
  intakeFt: figure('Where the intake goes, below the measuring point'),
  clearFromFt: figure('Shallowest depth against which nothing speaks while pumping'),
  clearToFt: figure('Deepest depth against which nothing speaks'),
  submergenceFt: figure('Water over the intake while pumping'),
  intakeConflicts: list(conflict, 'What speaks against the depth of the intake'),
  waterLineFt: figure('Length to cut'),
  airLineFt: figure('Length to cut; shorter at the surface than the water line'),
  waterLineMl: figure('Inside the water line'),
  airLineMl: figure('Inside the air line'),
  systemMl: figure('Pump, water line and flow cell'),
  minimumPurgeMl: figure('The purge must be larger: drawdown in the casing and water line'),
  drivePressures: list(pressure, 'By three rules, lowest first, up to the rating of the weakest part; gauge pressures'),
  lowestRatedPart: z
    .enum([...PRESSURE_PARTS, ...FURTHER_PRESSURE_PARTS])
    .nullable()
    .describe('The part that carries least'),
  lowestRatedPsi: figure('Its recorded maximum rating'),
  ratingsToRecord: z.array(z.string()).describe('What has to be recorded before a pressure is given'),
  refillS: figure('First cycle'),
  dischargeS: figure('First cycle'),
  cyclesPerMin: figure('Of the first cycle'),
  strokeMl: figure('What each stroke has to give for the flow'),
  collectionS: figure('How long to collect for the mean flow, whole cycles'),
  gasPerCycleMl: figure('Vented on each cycle, at the pressure of the air at the station'),
  gasPerMinL: figure('The same a minute'),
  cylinderCycles: z.int().nullable().describe('Whole cycles that the cylinder lasts'),
  cylinderH: figure('How long it lasts'),
  batteryH: figure('How long the battery lasts'),
  firstWaterSoonestMin: figure('When water comes where the line stands full to the water in the well'),
  firstWaterLatestMin: figure('When it comes where line and pump begin empty'),
  readingIntervalMin: figure('Least time between two readings: of the criteria, or one turnover of the cell'),
  wasteL: figure('Waste water of the purge and of decontamination'),
  drums: z.int().nullable().describe('Drums for it'),
  checkList: z.array(z.string()).describe('To tick off before pumping'),
  missing: z.array(z.string()).describe('What was not computed, and what is needed for it'),
};

/** Where the plan is refused. */
export const NO_PLAN = {
  pumps: [],
  suctionLiftFt: null,
  suctionLimits: [],
  materials: [],
  partsAgainst: [],
  intakeFt: null,
  clearFromFt: null,
  clearToFt: null,
  submergenceFt: null,
  intakeConflicts: [],
  waterLineFt: null,
  airLineFt: null,
  waterLineMl: null,
  airLineMl: null,
  systemMl: null,
  minimumPurgeMl: null,
  drivePressures: [],
  lowestRatedPart: null,
  lowestRatedPsi: null,
  ratingsToRecord: [],
  refillS: null,
  dischargeS: null,
  cyclesPerMin: null,
  strokeMl: null,
  collectionS: null,
  gasPerCycleMl: null,
  gasPerMinL: null,
  cylinderCycles: null,
  cylinderH: null,
  batteryH: null,
  firstWaterSoonestMin: null,
  firstWaterLatestMin: null,
  readingIntervalMin: null,
  wasteL: null,
  drums: null,
  checkList: [],
  missing: [],
};
