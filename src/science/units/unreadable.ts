import { type Refusal, refuse } from '../refusal.ts';
import { isPlainDecimal } from './fraction.ts';

/**
 * A refusal that names the first value that is no plain decimal; undefined where all can be read. Formulas that take
 * measured decimal strings ask it first, so that no text becomes a silent NaN.
 *
 * @param given named values; an absent one is readable, for an optional value may be left out
 */
export function unreadable(given: Readonly<Record<string, string | undefined>>): Refusal | undefined {
  for (const [name, text] of Object.entries(given))
    if (text !== undefined && !isPlainDecimal(text))
      return refuse(`${name} "${text}" is no plain decimal: give one such as "14.62".`);
  return undefined;
}
