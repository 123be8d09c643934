import { every, type StandardTable } from './standard-table.ts';

/** Electrode and filling: the molarity moves the reference by up to 90 mV, and labels are not interchangeable. */
export const REFERENCE_ELECTRODE_IDS = [
  'silver-chloride-3-molar',
  'silver-chloride-3-3-molar',
  'silver-chloride-3-5-molar',
  'silver-chloride-4-molar',
  'silver-chloride-saturated',
  'silver-chloride-instrument-table-3-molar',
  'silver-chloride-saturated-without-junction',
  'silver-chloride-1-molar-without-junction',
  'silver-chloride-tenth-molar-without-junction',
] as const;
export type ReferenceElectrodeId = (typeof REFERENCE_ELECTRODE_IDS)[number];
export type ReferenceElectrode = StandardTable<ReferenceElectrodeId>;

const FIELD_MANUAL =
  'US Geological Survey, National Field Manual, chapter 6.5, version 1.2 (2005), table 6.5-2, with the liquid junction (from memory)';
const WITHOUT_JUNCTION =
  'International Journal of Corrosion 2010, article 756950, table 2: half-cell without liquid junction';

function ofFieldManual(id: ReferenceElectrodeId, filling: string, values: string): ReferenceElectrode {
  return {
    id,
    name: `Silver/silver chloride, ${filling}`,
    unit: 'mV',
    points: every(5, 10, values),
    source: FIELD_MANUAL,
    dated: '2005-09',
    verified: false,
  };
}

function at25(id: ReferenceElectrodeId, filling: string, value: string, source: string): ReferenceElectrode {
  return {
    id,
    name: `Silver/silver chloride, ${filling}`,
    unit: 'mV',
    points: [['25', value]],
    source,
    dated: source === WITHOUT_JUNCTION ? '2010' : 'not dated in the copy',
    verified: true,
  };
}

export const REFERENCE_ELECTRODES: Readonly<Record<ReferenceElectrodeId, ReferenceElectrode>> = {
  'silver-chloride-3-molar': ofFieldManual(
    'silver-chloride-3-molar',
    'potassium chloride 3 mol/L',
    '220 216 213 209 205',
  ),
  'silver-chloride-3-3-molar': ofFieldManual(
    'silver-chloride-3-3-molar',
    'potassium chloride 3.3 mol/L',
    '217 214 210 207 203',
  ),
  'silver-chloride-3-5-molar': ofFieldManual(
    'silver-chloride-3-5-molar',
    'potassium chloride 3.5 mol/L',
    '215 212 208 205 201',
  ),
  'silver-chloride-saturated': ofFieldManual(
    'silver-chloride-saturated',
    'saturated potassium chloride',
    '214 209 204 199 194',
  ),
  'silver-chloride-4-molar': at25(
    'silver-chloride-4-molar',
    'potassium chloride 4 mol/L',
    '200',
    'an encyclopedic table of electrodes, read in a copy',
  ),
  'silver-chloride-instrument-table-3-molar': {
    id: 'silver-chloride-instrument-table-3-molar',
    name: 'Silver/silver chloride, the instrument table headed 3 mol/L',
    unit: 'mV',
    points: every(5, 5, '221 217 214 210 207 203 200 196'),
    source: 'an instrument table headed 3 mol/L, read as printed',
    dated: 'not dated',
    verified: true,
    note: 'From 10 to 30 °C it is the column for 3.3 mol/L of the National Field Manual, 2 to 3 mV below that for 3 mol/L: ask which filling the electrode has',
  },
  'silver-chloride-saturated-without-junction': at25(
    'silver-chloride-saturated-without-junction',
    'saturated potassium chloride, half-cell alone',
    '197.0',
    WITHOUT_JUNCTION,
  ),
  'silver-chloride-1-molar-without-junction': at25(
    'silver-chloride-1-molar-without-junction',
    'potassium chloride 1 mol/L, half-cell alone',
    '236.0',
    WITHOUT_JUNCTION,
  ),
  'silver-chloride-tenth-molar-without-junction': at25(
    'silver-chloride-tenth-molar-without-junction',
    'potassium chloride 0.1 mol/L, half-cell alone',
    '289.5',
    WITHOUT_JUNCTION,
  ),
};
