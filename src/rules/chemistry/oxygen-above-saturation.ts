import { oxygenSaturation } from '../../science/oxygen/oxygen-saturation.ts';
import { WEATHER_SHARE } from '../../science/oxygen/pressure-kind.ts';
import { isRefusal } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import type { ChemistryFinding, FindingNumber } from './chemistry-finding.ts';
import type { ChemistryReading } from './chemistry-reading.ts';
import type { PurgeChemistry } from './purge-chemistry.ts';
import { saturationOfReading } from './saturation-of-reading.ts';

/** Within it lie the limits of meters (0.2 to 0.5 mg/L) and much of what trapped air adds during recharge. Our choice. */
export const ALLOWED_ABOVE_PERCENT = 10;

/** The highest pressure that weather makes at sea level: no well on land takes up more. */
const HIGHEST_MMHG = 760 * (1 + WEATHER_SHARE);

interface Excess {
  readonly reading: ChemistryReading;
  /** What the meter shows, as part of a sentence. */
  readonly shown: string;
  readonly percent: number;
  readonly numbers: readonly FindingNumber[];
}

function isExcess(percent: number): boolean {
  return percent > 100 + ALLOWED_ABOVE_PERCENT;
}

function excessInMgPerL(reading: ChemistryReading, mgPerL: string, air: Air): Excess | null {
  const percent = (100 * Number(mgPerL)) / air.mgPerL;
  if (!isExcess(percent)) return null;
  const most = placesText(air.mgPerL, 2);
  return {
    reading,
    shown: `Dissolved oxygen ${mgPerL} mg/L at ${reading.temperatureC} °C, where air can give this water ${most} mg/L,`,
    percent,
    numbers: [
      { name: 'dissolvedOxygen', value: mgPerL, unit: 'mg/L' },
      { name: 'saturation', value: most, unit: 'mg/L' },
      { name: 'pressure', value: placesText(air.pressureMmHg, 1), unit: 'mmHg' },
    ],
  };
}

/** The percentage that a meter shows needs no pressure: of one atmosphere it would be still more of what is possible here. */
function excessInPercent(reading: ChemistryReading, percent: string): Excess | null {
  if (!isExcess(Number(percent))) return null;
  const numbers = [{ name: 'dissolvedOxygenPercent', value: percent, unit: '%' }];
  return { reading, shown: `Dissolved oxygen ${percent} % as the meter shows it`, percent: Number(percent), numbers };
}

interface Air {
  readonly pressureMmHg: number;
  /** What it can give the water of a reading. */
  readonly mgPerL: number;
}

/** The hottest and saltiest water whose saturation is known: it takes up least. */
const TAKES_LEAST = { temperatureC: 40, salinity: 40, basis: 'benson-and-krause' } as const;

/** So much can be no excess in any water. */
function neverExcessMgPerL(pressureMmHg: number): number {
  const least = oxygenSaturation({ ...TAKES_LEAST, pressureMmHg });
  return isRefusal(least) ? 0 : least.mgPerL;
}

/** Most readings are far below, and the saturation of their water need not be computed. */
function isFarBelow({ dissolvedOxygenMgPerL, dissolvedOxygenPercent }: ChemistryReading, mgPerL: number): boolean {
  const byPercent = dissolvedOxygenPercent !== null && isExcess(Number(dissolvedOxygenPercent));
  return !byPercent && (dissolvedOxygenMgPerL === null || Number(dissolvedOxygenMgPerL) <= mgPerL);
}

function excessOf(reading: ChemistryReading, pressureMmHg: number): Excess | null {
  const { dissolvedOxygenMgPerL: mgPerL, dissolvedOxygenPercent: percent } = reading;
  const saturation = mgPerL === null ? null : saturationOfReading(reading, pressureMmHg);
  if (mgPerL !== null && saturation !== null)
    return excessInMgPerL(reading, mgPerL, { pressureMmHg, mgPerL: saturation.mgPerL });
  return percent === null ? null : excessInPercent(reading, percent);
}

function worstOf(found: readonly Excess[]): Excess | undefined {
  return found.toSorted((a, b) => b.percent - a.percent)[0];
}

/**
 * More oxygen than air can give the water. Lawful where recharge trapped air; else air in the line, a cell that is not
 * full, or a meter calibrated with a pressure reduced to sea level.
 */
export function oxygenAboveSaturation({ readings, air }: PurgeChemistry): readonly ChemistryFinding[] {
  const pressureMmHg = air?.mmHg ?? HIGHEST_MMHG;
  const never = neverExcessMgPerL(pressureMmHg);
  const near = readings.filter((reading) => !isFarBelow(reading, never));
  const found = near.flatMap((reading) => excessOf(reading, pressureMmHg) ?? []);
  const worst = worstOf(found);
  if (worst === undefined) return [];
  const percent = placesText(worst.percent, 0);
  const where = air === null ? 'under the highest pressure that weather makes at sea level' : air.how;
  return [
    {
      code: 'oxygen-above-saturation',
      certainty: 'likely',
      sentence: `${worst.shown} is ${percent} % of saturation (${where}). Look for air in the line or in the cell, and for a meter calibrated at a pressure reduced to sea level; recharge that trapped air can exceed saturation too.`,
      numbers: [...worst.numbers, { name: 'ofSaturation', value: percent, unit: '%' }],
      readings: found.map(({ reading }) => reading.id),
      source: `Benson and Krause 1980 and 1984; the allowance of ${ALLOWED_ABOVE_PERCENT} % is common practice, no source`,
      verified: true,
    },
  ];
}
