import { tapeTolerance } from '../depth-tolerance.ts';

export type HistoryField = 'depthToBottomFt' | 'depthToWaterFt' | 'ph' | 'specificConductanceUsPerCm';

/** A slip of units that is common enough to look for, as what today's figure would be multiplied by. */
export interface UnitSlip {
  readonly factor: number;
  readonly sentence: string;
}

/** One of the quantities by which a well is known again. */
export interface HistoryQuantity {
  readonly field: HistoryField;
  readonly name: string;
  readonly unit: string;
  /** A smaller difference from the median is never asked about, in millionths of the unit. */
  readonly leastDifference: (medianMillionths: number) => number;
  /** What to look at while the crew is still there. */
  readonly check: string;
  readonly slips: readonly UnitSlip[];
}

const METRES_FOR_FEET: UnitSlip = { factor: 1 / 0.3048, sentence: 'It would fit if the tape read metres.' };

/**
 * Only what belongs to the well and not to the day: the bottom, the water, pH and specific conductance. Turbidity, ORP
 * and dissolved oxygen follow the pump and the purge, temperature the season, and concentrations are the laboratory's.
 * The least differences are common practice, no source, but for that of the bottom.
 */
export const HISTORY_QUANTITIES: readonly HistoryQuantity[] = [
  {
    field: 'depthToBottomFt',
    name: 'Depth to the bottom',
    unit: 'ft',
    leastDifference: tapeTolerance,
    check: 'Read the tag on the casing and sound again: another well of the nest, silt, or something lost in the well.',
    slips: [METRES_FOR_FEET],
  },
  {
    field: 'depthToWaterFt',
    name: 'Depth to water',
    unit: 'ft',
    leastDifference: () => 2_000_000,
    check:
      'Measure again from the marked point, and ask what pumps near by: another well, another point, or the water has moved.',
    slips: [METRES_FOR_FEET],
  },
  {
    field: 'ph',
    name: 'pH',
    unit: 'pH',
    leastDifference: () => 500_000,
    check: 'Check the meter in a buffer, and look for fresh grout or for acid from a bottle in the cell.',
    slips: [],
  },
  {
    field: 'specificConductanceUsPerCm',
    name: 'Specific conductance',
    unit: 'µS/cm',
    leastDifference: (median) => Math.abs(median) / 10,
    check: 'Check the meter in its standard, and whether it shows specific conductance at 25 °C.',
    slips: [
      { factor: 1_000, sentence: 'It would fit if the meter showed mS/cm.' },
      { factor: 1 / 1_000, sentence: 'It would fit in mS/cm: perhaps it was converted once too often.' },
    ],
  },
];
