import type { ChemistryFinding } from './chemistry-finding.ts';
import type { ChemistryReading } from './chemistry-reading.ts';
import type { PurgeChemistry } from './purge-chemistry.ts';

/** Above it oxygen suppresses reduction in the scoring of the EPA protocol, where 0.5 mg/L is tolerated; doubled here. */
const OXYGEN_MG_PER_L = '1.0';
/** Below it the same scoring takes a reductive pathway for likely, against silver/silver chloride. */
const ORP_MV = '-100';

interface Clash {
  readonly reading: ChemistryReading;
  readonly oxygen: string;
  readonly orp: string;
}

function clashOf(reading: ChemistryReading): Clash | null {
  const { dissolvedOxygenMgPerL: oxygen, orpMv: orp } = reading;
  if (oxygen === null || orp === null) return null;
  // 15 digits at most: as doubles two such decimals compare as they do on paper.
  return Number(oxygen) > Number(OXYGEN_MG_PER_L) && Number(orp) < Number(ORP_MV) ? { reading, oxygen, orp } : null;
}

/**
 * Oxygen and a strongly negative ORP in one water: one of the sensors is off, or air reaches the cell. At the start of a
 * purge both may still be on their way, so that the last such reading is named.
 */
export function oxygenWithNegativeOrp({ readings }: PurgeChemistry): readonly ChemistryFinding[] {
  const found = readings.flatMap((reading) => clashOf(reading) ?? []);
  const last = found.at(-1);
  if (last === undefined) return [];
  return [
    {
      code: 'oxygen-with-negative-orp',
      certainty: 'likely',
      sentence: `Dissolved oxygen ${last.oxygen} mg/L and ORP ${last.orp} mV do not go together: water with more than ${OXYGEN_MG_PER_L} mg/L of oxygen is not that reducing. Look for air in the line or the cell, check the oxygen sensor at zero and the ORP electrode in its solution.`,
      numbers: [
        { name: 'dissolvedOxygen', value: last.oxygen, unit: 'mg/L' },
        { name: 'orp', value: last.orp, unit: 'mV' },
      ],
      readings: found.map(({ reading }) => reading.id),
      source:
        'US EPA, technical protocol for natural attenuation of chlorinated solvents, EPA/600/R-98/128, 1998, scoring of oxygen and ORP (from memory); the limit of 1.0 mg/L is common practice, no source',
      verified: false,
    },
  ];
}
