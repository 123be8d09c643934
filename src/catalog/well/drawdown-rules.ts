import type { DrawdownUnit, Figure } from '../criteria-set.ts';
import { fromMemory, seen } from '../figures.ts';

/** What a document asks of the level in a well that is pumped. */
export interface DrawdownRule {
  readonly id: string;
  /** A limit; a limit or else a steady level; a steady level alone; or a depth that the water shall stay above. */
  readonly asks: 'limit' | 'limit-or-steady' | 'steady' | 'above-intake' | 'above-screen';
  readonly limit?: Figure;
  /** A limit stays in the unit of its document, or in percent of what it names: 0.1 m is not 0.3 ft. */
  readonly measure?: DrawdownUnit;
  /** Worded as "less than": exactly at the limit is beyond it. */
  readonly strictly?: true;
  readonly wording: string;
  readonly source: string;
  readonly verified: boolean;
}

const REGION_1 = 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13';

/** Published rules on drawdown, side by side. Which of them holds is for the plan to say. */
export const DRAWDOWN_RULES: readonly DrawdownRule[] = [
  {
    id: 'target-of-0.3-ft',
    asks: 'limit',
    limit: seen('0.3'),
    measure: 'ft',
    wording: 'at most 0.3 ft; may be exceeded at the start and recover as the rate is adjusted',
    source: REGION_1,
    verified: true,
  },
  {
    id: 'more-than-0.3-ft-if-steady',
    asks: 'limit-or-steady',
    limit: fromMemory('0.3', 'high'),
    measure: 'ft',
    wording: 'more than 0.3 ft, but steady, will do with an extra purge volume',
    source: 'US EPA Region 1 low-stress procedure, Rev. 3 and EQASOP-GW4, Rev. 4, 19 Sep 2017, from memory',
    verified: false,
  },
  {
    id: 'goal-of-0.1-m',
    asks: 'limit',
    limit: fromMemory('0.1', 'high'),
    measure: 'm',
    strictly: true,
    wording: 'less than 0.1 m, a goal that may be hard to meet',
    source: 'Puls and Barcelona 1996, EPA/540/S-95/504, from memory',
    verified: false,
  },
  {
    id: 'quarter-of-screen-top-to-intake',
    asks: 'limit',
    limit: fromMemory('25', 'medium'),
    measure: 'percent-of-screen-top-to-intake',
    wording: 'at most 25 % of the distance from the intake to the top of the screen',
    source: 'attributed to ASTM D6771 and Yeskis and Zavala 2002, EPA/542/S-02/001; primary not confirmed, from memory',
    verified: false,
  },
  {
    id: 'steady-at-any-depth',
    asks: 'steady',
    wording: 'steady at any depth is enough; the method cannot be used where drawdown keeps growing',
    source: 'ASTM D6771-21, 5.2',
    verified: true,
  },
  {
    id: 'tenth-of-screen-length',
    asks: 'limit',
    limit: seen('10'),
    measure: 'percent-of-screen-length',
    strictly: true,
    wording: 'less than 10 % of the length of the screen',
    source: 'bioremediation protocol, 1995, county file, doc 543521, page 121',
    verified: true,
  },
  {
    id: 'twentieth-of-water-column',
    asks: 'limit',
    limit: seen('5'),
    measure: 'percent-of-water-column',
    wording: 'at most 5 % of the standing water column',
    source: "regulator's file, county file, doc 276400, page 39",
    verified: true,
  },
  {
    id: 'army-depot-target-of-0.3-ft',
    asks: 'limit-or-steady',
    limit: seen('0.3'),
    measure: 'ft',
    wording: '0.3 ft as a target; 10 ft or more is tolerated in extreme cases if it is stable',
    source: 'Army depot SOP-009, Rev. 1, Apr 2019, county file, doc 798934, page 93',
    verified: true,
  },
  {
    id: 'never-to-the-intake',
    asks: 'above-intake',
    wording: 'never let the level reach the intake',
    source: REGION_1,
    verified: true,
  },
  {
    id: 'not-into-the-screen',
    asks: 'above-screen',
    wording: 'where the static level is above the screen, avoid pulling it into the screen',
    source: REGION_1,
    verified: true,
  },
];
