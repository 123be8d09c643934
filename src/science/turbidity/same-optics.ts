import { type Refusal, refuse } from '../refusal.ts';
import { unitWithCode } from '../units/unit-list.ts';

/**
 * Whether two turbidities may be compared, averaged or plotted together: only in one and the same unit, for the unit
 * names the optics. There is no factor between two of them, not even 1.
 *
 * Source: ASTM D7315 and US Geological Survey, National Field Manual, chapter 6.7 (from memory).
 *
 * @param codes UCUM codes of the units: [NTU], [FNU] and so on
 * @returns the name of the one unit, or why not
 * @example sameOptics(['[NTU]', '[FNU]']) // refused
 */
export function sameOptics(codes: readonly string[]): { readonly unit: string } | Refusal {
  const first = codes[0];
  if (first === undefined) return refuse('No turbidity is given: give at least one unit.');
  const units = codes.map((code) => unitWithCode(code));
  const foreign = codes.find((_, at) => units[at]?.quantity !== 'turbidity');
  if (foreign !== undefined) return refuse(`"${foreign}" is no unit of turbidity: give one such as [NTU] or [FNU].`);
  const other = codes.find((code) => code !== first);
  if (other !== undefined)
    return refuse(
      `${unitWithCode(first)?.written} and ${unitWithCode(other)?.written} see different things in the same water and are never mixed or converted: keep each series in the unit of its meter.`,
    );
  return { unit: first };
}
