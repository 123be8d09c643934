import type { Refusal } from '../refusal.ts';
import { sumText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

/**
 * Eh, the potential against the standard hydrogen electrode: the reading plus the potential of the reference electrode.
 * A reading without the name of its electrode is no Eh.
 *
 * Source: definition; US Geological Survey, National Field Manual, chapter 6.5, version 1.2 (2005). Limits: the reference
 * at the temperature of the sample.
 *
 * @example ehMv('150', '214') // '364'
 */
export function ehMv(orpMv: string, referenceMv: string): string | Refusal {
  return unreadable({ orpMv, referenceMv }) ?? sumText(orpMv, referenceMv);
}
