import { z } from 'zod';
import { PUMP_KINDS } from '../../catalog/pumps/pump-kinds.ts';
import { decimal, text } from '../../protocol/primitives.ts';
import { FURTHER_PRESSURE_PARTS, PRESSURE_PARTS } from '../../science/pump/lowest-rated-part.ts';

const well = {
  depthsFrom: z.enum(['measuring-point', 'ground']).describe('Reference of the recorded depths of the well'),
  stickUpFt: decimal.optional().describe('Measuring point above ground, for depths from the ground'),
  casingInsideDiameterIn: decimal.describe('Actual, not nominal'),
  totalDepthFt: decimal.optional().describe('Of the well as built'),
  screenTopFt: decimal.optional().describe('As recorded'),
  screenBottomFt: decimal.optional().describe('As recorded'),
  soundedDepthFt: decimal.optional().describe('Bottom below the measuring point, as sounded; goes before the record'),
  staticDepthToWaterFt: decimal.describe('Below the measuring point, before pumping'),
  pumpingDepthToWaterFt: decimal.describe('Below the measuring point, as expected while pumping'),
  productOrVapour: z.boolean().describe('Whether product, or vapour at the casing, is present or expected'),
  waterTemperatureC: decimal.describe('Of the water in the well'),
  altitudeFt: decimal.describe('Above sea level'),
  stationPressureMmHg: decimal
    .optional()
    .describe('Of a barometer at the well, not reduced to sea level; goes before the altitude'),
};

const plan = {
  suites: z.array(text()).min(1).max(40).describe('What will be sampled, as the plan names it'),
  suctionLiftFt: decimal
    .optional()
    .describe('Of the plan or jurisdiction: from here on no suction; never above physics'),
  bottomClearanceFt: decimal.optional().describe('Of the plan; 2 ft where it says nothing'),
  lastIntakeFt: decimal.optional().describe('Depth of the intake at the last event'),
  plannedIntakeFt: decimal.optional().describe('A depth to plan for, instead of the one that is found here'),
  allowancePsi: decimal.optional().describe('Over the water column; 10 psi where the plan says nothing'),
  flowMlPerMin: decimal.optional().describe('Mean flow to plan for'),
  refillS: decimal.optional().describe('First cycle; 10 s where the plan says nothing'),
  dischargeS: decimal.optional().describe('First cycle; 5 s where the plan says nothing'),
  readingIntervalMin: decimal.optional().describe('Least time between two readings, of the criteria'),
  purgeMin: decimal.optional().describe('How long the purge is expected to last'),
  deconL: decimal.optional().describe('Waste water of decontamination at this well'),
  drumUsableL: decimal.optional().describe('What may go into one drum'),
};

const units = {
  units: z
    .array(
      z.strictObject({
        part: z.enum([...PRESSURE_PARTS, ...FURTHER_PRESSURE_PARTS, 'flow-cell']).describe('What it is'),
        label: text(64).describe('As painted on it'),
        pumpKind: z.enum(PUMP_KINDS).optional().describe('Of a pump'),
        outsideDiameterIn: decimal.optional().describe('Of a pump'),
        maximumDepthFt: decimal.optional().describe('Of a pump: recorded greatest depth'),
        volumeMl: decimal.optional().describe('Water in a pump or a flow cell; of a bladder pump its chamber'),
        material: text(64).optional().describe('That touches the water'),
        maximumPsi: decimal.optional().describe('Recorded maximum rating; of a regulator that of its outlet side'),
      }),
    )
    .max(40)
    .optional()
    .describe('What is at hand. Without the ratings of pump, tubing, fitting and regulator no pressure is given'),
  waterTubingInsideDiameterIn: decimal.optional().describe('Inside: tubing is sold by its outside diameter'),
  waterTubingOutsideDiameterIn: decimal.optional().describe('To show what counting with it would be off'),
  airTubingInsideDiameterIn: decimal.optional().describe('Inside'),
  waterLineAtSurfaceFt: decimal.optional().describe('From the measuring point to the flow cell'),
  airLineAtSurfaceFt: decimal.optional().describe('From the measuring point to the regulator'),
  outletAboveMeasuringPointFt: decimal.optional().describe('Where the water leaves the line; 0 where it is not given'),
  pumpHeadAboveMeasuringPointFt: decimal.optional().describe('Of a suction pump; 0 where it is not given'),
  driveGasFrom: z.enum(['compressor', 'cylinder']).optional().describe('Of a bladder pump'),
  cylinderL: decimal.optional().describe('Water volume of the cylinder'),
  cylinderPsi: decimal.optional().describe('On its gauge'),
  regulatorPsi: decimal.optional().describe('Behind its regulator'),
  batteryAh: decimal.optional().describe('Capacity of the battery, in ampere hours'),
  batteryUsablePercent: decimal.optional().describe('How far it may be emptied'),
  batteryDrawA: decimal.optional().describe('Mean draw, in amperes'),
};

/** What is asked of a pump set-up. */
export const pumpSetUpPlanInput = z.strictObject({ ...well, ...plan, ...units }).meta({
  examples: [
    {
      depthsFrom: 'measuring-point',
      casingInsideDiameterIn: '2.067',
      totalDepthFt: '60.0',
      screenTopFt: '45.0',
      screenBottomFt: '55.0',
      staticDepthToWaterFt: '24.0',
      pumpingDepthToWaterFt: '27.5',
      productOrVapour: false,
      waterTemperatureC: '12.0',
      altitudeFt: '500',
      suites: ['PFAS', 'metals'],
      flowMlPerMin: '200',
      readingIntervalMin: '5',
      purgeMin: '60',
      deconL: '8',
      drumUsableL: '180',
      units: [
        {
          part: 'pump',
          label: 'P-1',
          pumpKind: 'bladder-pump',
          outsideDiameterIn: '1.66',
          volumeMl: '150',
          material: 'stainless steel',
          maximumPsi: '120',
        },
        { part: 'bladder', label: 'B-1', material: 'polyethylene' },
        { part: 'tubing', label: 'T-1', material: 'polyethylene', maximumPsi: '100' },
        { part: 'fitting', label: 'F-1', maximumPsi: '150' },
        { part: 'regulator', label: 'R-1', maximumPsi: '125' },
        { part: 'flow-cell', label: 'C-1', volumeMl: '250' },
      ],
      waterTubingInsideDiameterIn: '0.17',
      waterTubingOutsideDiameterIn: '0.25',
      airTubingInsideDiameterIn: '0.17',
      waterLineAtSurfaceFt: '6',
      airLineAtSurfaceFt: '4',
      driveGasFrom: 'cylinder',
      cylinderL: '10',
      cylinderPsi: '2000',
      regulatorPsi: '100',
    },
    {
      depthsFrom: 'ground',
      stickUpFt: '2.5',
      casingInsideDiameterIn: '2.067',
      screenTopFt: '15.0',
      screenBottomFt: '25.0',
      totalDepthFt: '25.5',
      staticDepthToWaterFt: '12.40',
      pumpingDepthToWaterFt: '12.90',
      productOrVapour: false,
      waterTemperatureC: '11.0',
      altitudeFt: '300',
      suites: ['metals'],
    },
  ],
});

export type PlanInput = z.output<typeof pumpSetUpPlanInput>;
export type UnitAtHand = NonNullable<PlanInput['units']>[number];
