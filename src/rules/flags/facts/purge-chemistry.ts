import { isRefusal } from '../../../science/refusal.ts';
import type { ChemistryFinding } from '../../chemistry/chemistry-finding.ts';
import { type ChemistryReading, chemistryReadings } from '../../chemistry/chemistry-reading.ts';
import { purgeFindings } from '../../chemistry/purge-findings.ts';
import { type StationAir, stationAir } from '../../chemistry/station-air.ts';
import { measuringPointAt } from '../../decide/measuring-point-at.ts';
import type { VisitBundle } from '../../visit-bundle.ts';

type PurgeBundle = VisitBundle['purges'][number];

/** Vertical datums whose zero is the sea to within a few feet, which a pressure does not feel. A site's own may be any. */
const SEA_LEVEL = /\bN[AG]VD\W?\s?(?:of\s)?(?:19)?(?:88|29)\b|\bMSL\b|mean sea level/i;

/**
 * The air at the well by the elevation of its measuring point: no barometer is recorded. Null where the elevation or its
 * datum does not tell how high above the sea it is; then only what holds at any pressure is asked.
 */
export function airAtWell({ measuringPoints }: VisitBundle, at: string): StationAir | null {
  const { elevationFt, datum } = measuringPointAt(measuringPoints, at)?.fields ?? {};
  if (elevationFt === undefined || datum === undefined || !SEA_LEVEL.test(datum)) return null;
  const air = stationAir({ altitudeFt: elevationFt });
  return isRefusal(air) ? null : air;
}

/** The readings of a purge and what their chemistry makes hard to believe. */
export interface PurgeFindings {
  /** Earliest first. */
  readonly readings: readonly ChemistryReading[];
  readonly findings: readonly ChemistryFinding[];
}

const known = new WeakMap<PurgeBundle, PurgeFindings>();

/** Worked out once a purge, for several rules look at it. How a meter compensates conductivity is not recorded. */
export function chemistryOf(bundle: VisitBundle, purge: PurgeBundle): PurgeFindings {
  const before = known.get(purge);
  if (before !== undefined) return before;
  const readings = chemistryReadings(purge.readings);
  const air = airAtWell(bundle, purge.purge.fields.began);
  const found = { readings, findings: purgeFindings({ readings, air, compensations: new Map() }) };
  known.set(purge, found);
  return found;
}
