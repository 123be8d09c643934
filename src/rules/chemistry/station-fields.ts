import { decimal } from '../../protocol/primitives.ts';

/** How a question asks for the air at the station: one pressure, or the altitude in its place. */
export const stationFields = {
  stationPressureMmHg: decimal.optional().describe('Of the air at the well in mmHg, never reduced to sea level'),
  stationPressureHpa: decimal.optional().describe('The same in hPa (millibar); give one of the three'),
  stationPressureInHg: decimal.optional().describe('The same in inHg; give one of the three'),
  altitudeFt: decimal.optional().describe('Of the well above sea level; stands in where there is no barometer'),
  altitudeM: decimal.optional().describe('The same in metres; give one of the two'),
};
