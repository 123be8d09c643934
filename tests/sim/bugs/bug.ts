import type { Features } from '../features.ts';
import type { Seams } from '../world.ts';
import type { Finder } from './found-by.ts';

/** A mistake that a protocol like this may have, put in through a seam of the harness. */
export interface Bug {
  readonly name: string;
  /** The kind of world in which it can show. */
  readonly where: Partial<Features>;
  /** The checks that what it does must show in: one of these finds it. */
  readonly by: readonly Finder[];
  readonly plant: () => Seams;
}

type Around = NonNullable<NonNullable<Seams['server']>['around']>;
type LaneSeam = NonNullable<NonNullable<Seams['server']>['lane']>;
type LineSeam = NonNullable<NonNullable<Seams['phone']>['line']>;
type Finders = Bug['by'];
type Parts = NonNullable<NonNullable<Seams['phone']>['parts']>;

export function inStatements(name: string, by: Finders, where: Partial<Features>, make: () => Around): Bug {
  return { name, by, where, plant: () => ({ server: { around: make() } }) };
}

export function inLane(name: string, by: Finders, where: Partial<Features>, make: () => LaneSeam): Bug {
  return { name, by, where, plant: () => ({ server: { lane: make() } }) };
}

export function inLine(name: string, by: Finders, where: Partial<Features>, make: () => LineSeam): Bug {
  return { name, by, where, plant: () => ({ phone: { line: make() } }) };
}

export function inStore(name: string, by: Finders, where: Partial<Features>, parts: Parts): Bug {
  return { name, by, where, plant: () => ({ phone: { parts } }) };
}
