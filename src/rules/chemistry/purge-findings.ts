import type { ChemistryFinding } from './chemistry-finding.ts';
import { conductanceMethodChanged } from './conductance-method-changed.ts';
import { oxygenAboveSaturation } from './oxygen-above-saturation.ts';
import { oxygenFiguresDisagree } from './oxygen-figures-disagree.ts';
import { oxygenWithNegativeOrp } from './oxygen-with-negative-orp.ts';
import type { PurgeChemistry } from './purge-chemistry.ts';
import { repeatedLines } from './repeated-lines.ts';
import { stuckSensor } from './stuck-sensor.ts';

const RULES: readonly ((chemistry: PurgeChemistry) => readonly ChemistryFinding[])[] = [
  oxygenAboveSaturation,
  oxygenFiguresDisagree,
  oxygenWithNegativeOrp,
  conductanceMethodChanged,
  stuckSensor,
  repeatedLines,
];

/** Everything that the chemistry of a purge makes hard to believe, rule by rule. */
export function purgeFindings(chemistry: PurgeChemistry): readonly ChemistryFinding[] {
  return RULES.flatMap((rule) => rule(chemistry));
}
