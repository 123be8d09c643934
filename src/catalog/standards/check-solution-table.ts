import { every, type StandardTable } from './standard-table.ts';

/**
 * What a meter with a 4 mol/L silver/silver chloride electrode should read in ZoBell's solution, as an instrument table
 * gives it: its own reference, so that it is not what the tables of the solution and of another electrode make.
 */
export const ZOBELL_WITH_4_MOLAR: StandardTable<'zobell-with-4-molar'> = {
  id: 'zobell-with-4-molar',
  name: "ZoBell's solution read with silver/silver chloride 4 mol/L",
  unit: 'mV',
  points: every(5, 0, '260.5 254.0 247.5 241.0 234.5 228.0 221.5'),
  source: 'an instrument table for 4 mol/L, -1.3 mV per °C, read in a copy',
  dated: 'not dated in the copy',
  verified: true,
};
