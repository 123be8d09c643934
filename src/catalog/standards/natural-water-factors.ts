import { every, type StandardTable } from './standard-table.ts';

/** Factors to 25 °C for the conductivity of natural water, in whole degrees. For a reference of 20 °C divide by 1.116. */
export const NATURAL_WATER_FACTORS: StandardTable<'iso-7888'> = {
  id: 'iso-7888',
  name: 'Factors of ISO 7888 for natural water',
  unit: '1',
  points: every(
    1,
    0,
    '1.918 1.857 1.800 1.745 1.693 1.643 1.596 1.551 1.508 1.467 1.428 1.390 1.354 1.320 1.287 1.256 1.225 1.196 1.168 1.141 1.116 1.091 1.067 1.044 1.021 1.000 0.979 0.959 0.940 0.921 0.903 0.886 0.869 0.853 0.837 0.822',
  ),
  source: 'ISO 7888:1985 / EN 27888, table of temperature correction factors, read in a copy',
  dated: '1985',
  verified: true,
  note: 'For natural waters of 60 to 1,000 µS/cm, 0 to 35.9 °C',
};
