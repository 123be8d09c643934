import { isRefusal, type Refusal } from '../refusal.ts';
import { stationFromSeaLevelMmHg } from './station-pressure.ts';

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

export interface PressureJudged {
  readonly kind: PressureKind;
  /** Of the standard atmosphere at the altitude. */
  readonly standardMmHg: number;
  /** The pressure of the station, if the stated one was reduced to sea level. */
  readonly ifReducedMmHg: number;
}

function kindOf(pressureMmHg: number, standardMmHg: number): PressureKind {
  const fitsStation = isNear(pressureMmHg, standardMmHg);
  const fitsSeaLevel = isNear(pressureMmHg, 760);
  if (fitsStation && Math.abs(standardMmHg / 760 - 1) < NO_MATTER_SHARE) return 'low-ground';
  if (fitsStation) return fitsSeaLevel ? 'cannot-tell' : 'station';
  return fitsSeaLevel ? 'reduced-to-sea-level' : 'not-believable';
}

/**
 * Whether a stated pressure is that of the station or was reduced to sea level. A phone, an airport and a weather report
 * show the reduced one, about 760 mmHg everywhere: at 5,000 ft it makes saturation a fifth too high.
 *
 * Source: ISO 2533:1975; that weather stays within 3.5 % is common practice, no source. Limits: -500 to 5,000 m. Below
 * about 1,900 ft the size alone cannot tell, and the answer says so.
 *
 * @example judgedPressure(760, 1_524) // kind: 'reduced-to-sea-level', standardMmHg: 632.4, ifReducedMmHg: 632.4
 */
export function judgedPressure(pressureMmHg: number, altitudeM: number): PressureJudged | Refusal {
  const ifReducedMmHg = stationFromSeaLevelMmHg(pressureMmHg, altitudeM);
  if (isRefusal(ifReducedMmHg)) return ifReducedMmHg;
  const standardMmHg = (760 * ifReducedMmHg) / pressureMmHg;
  return { kind: kindOf(pressureMmHg, standardMmHg), standardMmHg, ifReducedMmHg };
}
