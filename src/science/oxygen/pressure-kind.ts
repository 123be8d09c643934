import { isRefusal, type Refusal } from '../refusal.ts';
import { pressureRefusal } from './pressure-factor.ts';
import { standardPressureMmHg } from './standard-atmosphere.ts';

/**
 * What a stated air pressure can be at an altitude. `low-ground`: station and sea level differ by less than half a
 * percent there, so it does not matter. `cannot-tell`: it could be either, and it matters.
 */
export type PressureKind = 'station' | 'reduced-to-sea-level' | 'low-ground' | 'cannot-tell' | 'not-believable';

/** How far weather moves the pressure from the standard one, as a share: 733 to 787 mmHg at sea level. */
export const WEATHER_SHARE = 0.035;

/** Two pressures closer than this share do not move dissolved oxygen by more than a digit of a meter. */
const NO_MATTER_SHARE = 0.005;

function isNear(pressureMmHg: number, standardMmHg: number): boolean {
  return Math.abs(pressureMmHg / standardMmHg - 1) <= WEATHER_SHARE;
}

/**
 * Whether a stated pressure is that of the station or was reduced to sea level. A phone, an airport and a weather report
 * show the reduced one, about 760 mmHg everywhere: at 5,000 ft it makes saturation a fifth too high.
 *
 * Source: ISO 2533:1975; that weather stays within 3.5 % is common practice, no source. Limits: -500 to 5,000 m. Below
 * about 1,900 ft the size alone cannot tell, and the answer says so.
 *
 * @example pressureKind(760, 1_524) // 'reduced-to-sea-level'
 */
export function pressureKind(pressureMmHg: number, altitudeM: number): PressureKind | Refusal {
  const wrong = pressureRefusal(pressureMmHg);
  if (wrong) return wrong;
  const standard = standardPressureMmHg(altitudeM);
  if (isRefusal(standard)) return standard;
  const fitsStation = isNear(pressureMmHg, standard);
  const fitsSeaLevel = isNear(pressureMmHg, 760);
  if (fitsStation && Math.abs(standard / 760 - 1) < NO_MATTER_SHARE) return 'low-ground';
  if (fitsStation) return fitsSeaLevel ? 'cannot-tell' : 'station';
  return fitsSeaLevel ? 'reduced-to-sea-level' : 'not-believable';
}
