import type { StandardTable } from './standard-table.ts';

const SOURCE =
  'NIST values for potassium chloride, ITS-90 (Wu, Koch and Pratt 1991; Wu et al. 1994; Pratt et al. 2001), molal, carbonic acid of the water taken off, as printed in the CRC Handbook';

type MolalId = 'potassium-chloride-001-molal' | 'potassium-chloride-01-molal' | 'potassium-chloride-1-molal';

export type ConductivityTable = StandardTable<MolalId> & {
  /** Conductivity at 25 °C, which the table prints too. */
  readonly at25UsPerCm: string;
};

function molal(id: MolalId, strength: string, at25UsPerCm: string, points: StandardTable['points']): ConductivityTable {
  const note = 'Mol per kilogram of water: a bottle labelled mol per litre conducts about 0.3 % more';
  return {
    id,
    name: `Potassium chloride ${strength} mol/kg`,
    unit: 'µS/cm',
    points,
    at25UsPerCm,
    source: SOURCE,
    dated: '2001',
    verified: true,
    note,
  };
}

export const POTASSIUM_CHLORIDE_001_MOLAL = molal('potassium-chloride-001-molal', '0.01', '1408.23', [
  ['0', '772.92'],
  ['5', '890.96'],
  ['10', '1013.95'],
  ['15', '1141.45'],
  ['18', '1219.93'],
  ['20', '1273.03'],
  ['25', '1408.23'],
  ['30', '1546.63'],
  ['35', '1687.79'],
]);

export const POTASSIUM_CHLORIDE_01_MOLAL = molal('potassium-chloride-01-molal', '0.1', '12824.6', [
  ['0', '7116.85'],
  ['5', '8183.70'],
  ['10', '9291.72'],
  ['15', '10437.1'],
  ['18', '11140.6'],
  ['20', '11615.9'],
  ['25', '12824.6'],
  ['30', '14059.2'],
  ['35', '15316.0'],
]);

export const POTASSIUM_CHLORIDE_1_MOLAL = molal('potassium-chloride-1-molal', '1', '108620', [
  ['0', '63488'],
  ['5', '72030'],
  ['10', '80844'],
  ['15', '89900'],
  ['20', '99170'],
  ['25', '108620'],
  ['30', '118240'],
  ['35', '127970'],
]);

/** A bottle whose label gives its conductivity at 25 °C: mol per litre, so that the molal table is not its own. */
export interface BottledStandard {
  readonly id: 'bottled-1413' | 'bottled-12880';
  readonly name: string;
  readonly at25UsPerCm: string;
  /** By whose course it changes with temperature. */
  readonly course: ConductivityTable;
  readonly source: string;
  readonly verified: boolean;
}

const BOTTLED_SOURCE =
  'value of the label (0.01 mol/L: 1412 to 1413; 0.1 mol/L: 12,880 µS/cm at 25 °C, from memory) times the course of the NIST values with temperature (computed)';

export const BOTTLED_STANDARDS: Readonly<Record<BottledStandard['id'], BottledStandard>> = {
  'bottled-1413': {
    id: 'bottled-1413',
    name: 'Bottled potassium chloride 0.01 mol/L, "1413"',
    at25UsPerCm: '1413',
    course: POTASSIUM_CHLORIDE_001_MOLAL,
    source: BOTTLED_SOURCE,
    verified: false,
  },
  'bottled-12880': {
    id: 'bottled-12880',
    name: 'Bottled potassium chloride 0.1 mol/L, "12.88 mS/cm"',
    at25UsPerCm: '12880',
    course: POTASSIUM_CHLORIDE_01_MOLAL,
    source: BOTTLED_SOURCE,
    verified: false,
  },
};
