import { atTemperature } from '../../catalog/standards/at-temperature.ts';
import { NATURAL_WATER_FACTORS } from '../../catalog/standards/natural-water-factors.ts';
import { linearFactor } from '../../science/conductance/linear-factor.ts';
import { naturalWaterFactor } from '../../science/conductance/natural-water-factor.ts';
import { isRefusal, type Refusal } from '../../science/refusal.ts';
import { asNumber } from '../../science/units/fraction.ts';

/** How a meter brings a conductivity to 25 °C. The choice alone moves a reading at 10 °C by 1.9 %. */
export const COMPENSATION_METHODS = ['alpha-0191', 'alpha-0200', 'natural-water'] as const;
export type CompensationMethod = (typeof COMPENSATION_METHODS)[number];

export const COMPENSATIONS: Readonly<Record<CompensationMethod, { readonly name: string; readonly source: string }>> = {
  'alpha-0191': { name: 'linear, 1.91 % per °C', source: 'Standard Methods 2510 B (from memory)' },
  'alpha-0200': { name: 'linear, 2.00 % per °C', source: 'common practice, no source' },
  'natural-water': {
    name: 'non-linear, natural water',
    source: 'ISO 7888:1985 / EN 27888, read in a copy; the closed form above 35 °C from memory',
  },
};

function naturalWater(temperatureC: string): number | Refusal {
  const printed = atTemperature(NATURAL_WATER_FACTORS, temperatureC);
  return isRefusal(printed) ? naturalWaterFactor(Number(temperatureC)) : asNumber(printed.exact);
}

/**
 * The factor from the conductivity at a temperature to 25 °C: by the table of ISO 7888 where natural water is chosen, and
 * from 35 to 35.9 °C, where the table in whole degrees ends, by the closed form.
 *
 * @param temperatureC a plain decimal
 */
export function compensationFactor(method: CompensationMethod, temperatureC: string): number | Refusal {
  if (method === 'natural-water') return naturalWater(temperatureC);
  return linearFactor(method === 'alpha-0191' ? 0.0191 : 0.02, Number(temperatureC));
}
