import type { ChemistryFinding } from '../../../src/rules/chemistry/chemistry-finding.ts';
import { CHEMISTRY_QUANTITIES, type ChemistryReading } from '../../../src/rules/chemistry/chemistry-reading.ts';
import type { CompensationMethod } from '../../../src/rules/chemistry/compensation.ts';
import { purgeFindings } from '../../../src/rules/chemistry/purge-findings.ts';
import { type StationGiven, stationAir } from '../../../src/rules/chemistry/station-air.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

export type Part = Partial<Omit<ChemistryReading, 'id'>>;

const EMPTY = Object.fromEntries(CHEMISTRY_QUANTITIES.map((name) => [name, null])) as Omit<
  ChemistryReading,
  'id' | 'meter'
>;

function series(parts: readonly Part[]): ChemistryReading[] {
  return parts.map((part, at) => ({ id: `reading ${at + 1}`, meter: null, ...EMPTY, ...part }));
}

/** What is found in the readings of a purge, named reading 1, reading 2 and so on. */
export function find(
  parts: readonly Part[],
  station: StationGiven = {},
  compensations: readonly (readonly [string, CompensationMethod])[] = [],
): readonly ChemistryFinding[] {
  const air = stationAir(station);
  if (isRefusal(air)) throw new Error(air.refused);
  return purgeFindings({ readings: series(parts), air, compensations: new Map(compensations) });
}

export const codes = (findings: readonly ChemistryFinding[]) => findings.map(({ code }) => code);
