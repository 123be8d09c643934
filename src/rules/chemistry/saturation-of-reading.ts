import { type OxygenSaturation, oxygenSaturation } from '../../science/oxygen/oxygen-saturation.ts';
import { salinityOfConductance } from '../../science/oxygen/salinity-of-conductance.ts';
import { isRefusal } from '../../science/refusal.ts';
import type { ChemistryReading } from './chemistry-reading.ts';

/** Fresh where the conductance is missing or out of range: fresh water takes up most, so that nothing is blamed on salt. */
function salinityOf({ specificConductanceUsPerCm }: ChemistryReading): number {
  const salinity = specificConductanceUsPerCm === null ? 0 : salinityOfConductance(Number(specificConductanceUsPerCm));
  return isRefusal(salinity) ? 0 : salinity;
}

/** What the water of a reading takes up from the air at a pressure; null where its temperature says nothing of it. */
export function saturationOfReading(reading: ChemistryReading, pressureMmHg: number): OxygenSaturation | null {
  if (reading.temperatureC === null) return null;
  const saturation = oxygenSaturation({
    temperatureC: Number(reading.temperatureC),
    pressureMmHg,
    salinity: salinityOf(reading),
    basis: 'benson-and-krause',
  });
  return isRefusal(saturation) ? null : saturation;
}
