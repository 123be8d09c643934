import type { Figure } from '../criteria-set.ts';
import { fromMemory, seen } from '../figures.ts';

/** What documents say of the place of an intake; a plan may set its own. */
export interface IntakeRules {
  readonly bottomClearanceFt: Figure;
  /** The longest screen for which one procedure is meant. */
  readonly longestScreenFt: Figure;
  /** Above this length the zone of highest flux matters more than the middle. */
  readonly fluxZoneAboveFt: Figure;
}

export const INTAKE_RULES: IntakeRules = {
  bottomClearanceFt: { ...fromMemory('2', 'high'), source: 'US EPA Region 1, EQASOP-GW4, Rev. 4, 19 Sep 2017' },
  longestScreenFt: seen('10', 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996'),
  fluxZoneAboveFt: seen('5', 'New Jersey DEP, Low-Flow Purging and Sampling Guidance, Dec 2003, part 2'),
};
