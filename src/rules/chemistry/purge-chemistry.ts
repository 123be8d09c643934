import type { ChemistryReading } from './chemistry-reading.ts';
import type { CompensationMethod } from './compensation.ts';
import type { StationAir } from './station-air.ts';

/** What the rules of chemistry look at. */
export interface PurgeChemistry {
  /** Earliest first. */
  readonly readings: readonly ChemistryReading[];
  /** Null where neither a barometer nor the altitude is known: then only what holds at any pressure is asked. */
  readonly air: StationAir | null;
  /** How each meter compensates conductivity, where that is known, by meter id. */
  readonly compensations: ReadonlyMap<string, CompensationMethod>;
}
