import { pressureRefusal } from '../../science/oxygen/pressure-factor.ts';
import { standardPressureMmHg } from '../../science/oxygen/standard-atmosphere.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { convertUnit } from '../../science/units/convert-unit.ts';
import { asNumber } from '../../science/units/fraction.ts';
import { placesText } from '../../science/units/significant-text.ts';

/** A pressure of the air in the unit of the barometer, or the altitude of the well, as people have them. */
export interface StationGiven {
  readonly stationPressureMmHg?: string | undefined;
  readonly stationPressureHpa?: string | undefined;
  readonly stationPressureInHg?: string | undefined;
  readonly altitudeFt?: string | undefined;
  readonly altitudeM?: string | undefined;
}

export interface StationAir {
  readonly mmHg: number;
  readonly from: 'barometer' | 'altitude';
  readonly how: string;
}

const PRESSURES = [
  ['stationPressureMmHg', 'mm[Hg]', 'mmHg'],
  ['stationPressureHpa', 'hPa', 'hPa'],
  ['stationPressureInHg', "[in_i'Hg]", 'inHg'],
] as const;
const ALTITUDES = [
  ['altitudeFt', '[ft_i]', 'ft'],
  ['altitudeM', 'm', 'm'],
] as const;

interface Entered {
  readonly text: string;
  readonly code: string;
  readonly unit: string;
}

function entered(
  given: StationGiven,
  fields: readonly (readonly [keyof StationGiven, string, string])[],
): readonly Entered[] {
  return fields.flatMap(([field, code, unit]) => {
    const text = given[field];
    return text === undefined ? [] : [{ text, code, unit }];
  });
}

function only(found: readonly Entered[], what: string): Entered | null | Refusal {
  if (found.length <= 1) return found[0] ?? null;
  return refuse(
    `The ${what} is given in ${found.map(({ unit }) => unit).join(' and ')}: give it in one unit, so that two figures cannot disagree.`,
  );
}

function inUnit({ text, code }: Entered, to: string): number | Refusal {
  const converted = convertUnit(text, code, to);
  return isRefusal(converted) ? converted : asNumber(converted.exact);
}

/** The altitude in metres; null where none is given. */
export function altitudeInMetres(given: StationGiven): number | null | Refusal {
  const altitude = only(entered(given, ALTITUDES), 'altitude');
  return altitude === null || isRefusal(altitude) ? altitude : inUnit(altitude, 'm');
}

/** The stated pressure in mmHg, unchecked; null where none is given. */
export function statedPressureMmHg(given: StationGiven): number | null | Refusal {
  const pressure = only(entered(given, PRESSURES), 'pressure');
  return pressure === null || isRefusal(pressure) ? pressure : inUnit(pressure, 'mm[Hg]');
}

function fromBarometer(mmHg: number): StationAir | Refusal {
  const how = `pressure at the station as given, ${placesText(mmHg, 1)} mmHg`;
  return pressureRefusal(mmHg) ?? { mmHg, from: 'barometer', how };
}

function fromAltitude(altitudeM: number): StationAir | Refusal {
  const mmHg = standardPressureMmHg(altitudeM);
  if (isRefusal(mmHg)) return mmHg;
  const how = `standard atmosphere at ${placesText(altitudeM, 0)} m, ${placesText(mmHg, 1)} mmHg; weather moves it by about 3 %`;
  return { mmHg, from: 'altitude', how };
}

/** The air at the station: a barometer goes first, the altitude stands in for it. Null where neither is given. */
export function stationAir(given: StationGiven): StationAir | null | Refusal {
  const pressure = statedPressureMmHg(given);
  if (isRefusal(pressure)) return pressure;
  if (pressure !== null) return fromBarometer(pressure);
  const altitude = altitudeInMetres(given);
  return altitude === null || isRefusal(altitude) ? altitude : fromAltitude(altitude);
}
