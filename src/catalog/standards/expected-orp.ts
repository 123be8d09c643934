import { isRefusal, type Refusal } from '../../science/refusal.ts';
import { differenceText } from '../../science/units/decimal-arithmetic.ts';
import { atTemperature } from './at-temperature.ts';
import type { ReferenceElectrode } from './reference-electrodes.ts';
import { type ZobellTableId, zobellAt } from './zobell-tables.ts';

export interface ExpectedOrp {
  readonly orpMv: string;
  readonly ehMv: string;
  readonly referenceMv: string;
  /** Of the solution. */
  readonly name: string;
  readonly source: string;
  readonly verified: boolean;
}

/**
 * What a meter should read in ZoBell's solution: its potential by the form that is named, less that of the reference
 * electrode at the same temperature.
 *
 * @example expectedOrp('nordstrom-1977', REFERENCE_ELECTRODES['silver-chloride-3-3-molar'], '25') // orpMv: '223.3'
 */
export function expectedOrp(
  table: ZobellTableId,
  electrode: ReferenceElectrode,
  temperatureC: string,
): ExpectedOrp | Refusal {
  const solution = zobellAt(table, temperatureC);
  if (isRefusal(solution)) return solution;
  const reference = atTemperature(electrode, temperatureC);
  if (isRefusal(reference)) return reference;
  return {
    orpMv: differenceText(solution.ehMv, reference.text),
    ehMv: solution.ehMv,
    referenceMv: reference.text,
    name: solution.name,
    source: `${solution.source}; ${electrode.source}`,
    verified: solution.verified && electrode.verified,
  };
}
