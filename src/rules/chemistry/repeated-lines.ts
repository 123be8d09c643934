import type { ChemistryFinding } from './chemistry-finding.ts';
import { CHEMISTRY_QUANTITIES, type ChemistryReading } from './chemistry-reading.ts';
import type { PurgeChemistry } from './purge-chemistry.ts';
import { runsOf } from './runs.ts';

/** So many lines in a row, equal in so many parameters: no water repeats all its digits. */
const LEAST_LINES = 3;
const LEAST_PARAMETERS = 4;

function isSameLine(a: ChemistryReading, b: ChemistryReading): boolean {
  return CHEMISTRY_QUANTITIES.every((quantity) => a[quantity] === b[quantity]);
}

function filled(reading: ChemistryReading): number {
  return CHEMISTRY_QUANTITIES.filter((quantity) => reading[quantity] !== null).length;
}

/** Whole lines that repeat: a frozen display, or lines that were copied instead of read. */
export function repeatedLines({ readings }: PurgeChemistry): readonly ChemistryFinding[] {
  return runsOf(readings, isSameLine).flatMap((run) => {
    const parameters = filled(run[0]);
    if (run.length < LEAST_LINES || parameters < LEAST_PARAMETERS) return [];
    return [
      {
        code: 'repeated-lines',
        certainty: 'likely' as const,
        sentence: `${run.length} readings in a row are equal in all ${parameters} parameters to the last digit. See whether the display is frozen, and read the meter for each line.`,
        numbers: [
          { name: 'equalReadings', value: String(run.length), unit: '' },
          { name: 'parameters', value: String(parameters), unit: '' },
        ],
        readings: run.map(({ id }) => id),
        source: 'common practice, no source',
        verified: false,
      },
    ];
  });
}
