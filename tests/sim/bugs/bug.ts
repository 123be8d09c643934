import type { Features } from '../features.ts';
import type { Seams } from '../world.ts';

/** A mistake that a protocol like this may have, put in through a seam of the harness. */
export interface Bug {
  readonly name: string;
  /** The kind of world in which it can show. */
  readonly where: Partial<Features>;
  readonly plant: () => Seams;
}

type Around = NonNullable<NonNullable<Seams['server']>['around']>;
type LaneSeam = NonNullable<NonNullable<Seams['server']>['lane']>;
type LineSeam = NonNullable<NonNullable<Seams['phone']>['line']>;
type Parts = NonNullable<NonNullable<Seams['phone']>['parts']>;

export function inStatements(name: string, where: Partial<Features>, make: () => Around): Bug {
  return { name, where, plant: () => ({ server: { around: make() } }) };
}

export function inLane(name: string, where: Partial<Features>, make: () => LaneSeam): Bug {
  return { name, where, plant: () => ({ server: { lane: make() } }) };
}

export function inLine(name: string, where: Partial<Features>, make: () => LineSeam): Bug {
  return { name, where, plant: () => ({ phone: { line: make() } }) };
}

export function inStore(name: string, where: Partial<Features>, parts: Parts): Bug {
  return { name, where, plant: () => ({ phone: { parts } }) };
}
