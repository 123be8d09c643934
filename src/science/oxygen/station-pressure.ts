import { isRefusal, type Refusal } from '../refusal.ts';
import { pressureRefusal } from './pressure-factor.ts';
import { standardPressureMmHg } from './standard-atmosphere.ts';

/**
 * The pressure at a station from one that was reduced to sea level, as weather reports and airports give it: that
 * pressure times the share of the standard atmosphere at the altitude.
 *
 * Source: ISO 2533:1975 and arithmetic; how weather services reduce also depends on the temperature of the air, which
 * moves the result by about half a percent at 5,000 ft (common practice, no source). Limits: -500 to 5,000 m.
 *
 * @example stationFromSeaLevelMmHg(765, 1_524) // 636.5
 */
export function stationFromSeaLevelMmHg(seaLevelMmHg: number, altitudeM: number): number | Refusal {
  const wrong = pressureRefusal(seaLevelMmHg);
  if (wrong) return wrong;
  const standard = standardPressureMmHg(altitudeM);
  return isRefusal(standard) ? standard : (seaLevelMmHg * standard) / 760;
}
