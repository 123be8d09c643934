import { type Fraction, fraction } from './fraction.ts';

/** What a unit measures. Units of different quantities are never converted, even where their dimensions agree. */
export type Quantity =
  | 'length'
  | 'volume'
  | 'flow'
  | 'pressure'
  | 'temperature'
  | 'conductivity'
  | 'concentration'
  | 'density'
  | 'parts'
  | 'potential'
  | 'acidity'
  | 'turbidity'
  | 'time'
  | 'angle';

export interface Unit {
  /** Its code in the Unified Code for Units of Measure, where that has one. */
  readonly code: string;
  readonly name: string;
  /** How people write it; not unique: "ft" is two feet, "gal" two gallons. */
  readonly written: string;
  /** How a field measured in it ends: depthToWaterFt. */
  readonly suffix: string;
  readonly quantity: Quantity;
  /** How many base units of the quantity are one of it, exactly. */
  readonly factor: Fraction;
  /** What its zero is in base units, where that is not zero: 0 degrees Fahrenheit. */
  readonly zero?: Fraction;
  /** Why it is never converted to any other unit, where that is so. */
  readonly alone?: string;
  /** Definition of the factor. */
  readonly source: string;
}

/** The base unit of a quantity, by which all its others are measured. */
export const ONE = fraction(1n);

/** A metric unit, whose factor is a power of ten by the decimal prefixes of the SI. */
export const BY_PREFIX = 'SI, decimal prefixes: exact by definition';
