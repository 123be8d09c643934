import { type Refusal, refuse } from '../refusal.ts';
import type { Unit } from '../units/unit.ts';
import { unitWithCode } from '../units/unit-list.ts';

/**
 * Whether two turbidities may be compared, averaged or plotted together: only in one and the same unit, for the unit
 * names the optics. There is no factor between two of them, not even 1.
 *
 * Source: ASTM D7315 and US Geological Survey, National Field Manual, chapter 6.7 (from memory).
 *
 * @param codes UCUM codes of the units: [NTU], [FNU] and so on
 * @returns the one unit, or why not
 * @example sameOptics(['[NTU]', '[FNU]']) // refused
 */
export function sameOptics(codes: readonly string[]): Unit | Refusal {
  let one: Unit | undefined;
  for (const code of codes) {
    const unit = unitWithCode(code);
    if (unit?.quantity !== 'turbidity')
      return refuse(`"${code}" is no unit of turbidity: give one such as [NTU] or [FNU].`);
    if (one !== undefined && one.code !== unit.code)
      return refuse(
        `${one.written} and ${unit.written} see different things in the same water and are never mixed or converted: keep each series in the unit of its meter.`,
      );
    one = unit;
  }
  return one ?? refuse('No turbidity is given: give at least one unit.');
}
