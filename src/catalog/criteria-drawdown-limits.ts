import type { DrawdownUnit, Figure } from './criteria-set.ts';
import { fromMemory, seen } from './figures.ts';

/** A rule on drawdown as its document words it, for a plan to take over. */
export interface DrawdownLimit {
  readonly id: string;
  /** Missing: the level may stand at any depth if it is steady. */
  readonly limit?: Figure;
  readonly unit?: DrawdownUnit;
  readonly source: string;
  readonly note?: string;
}

/** Limits stay in the unit of their document: 0.1 m is 0.328 ft, not 0.3 ft. */
export const drawdownLimits: readonly DrawdownLimit[] = [
  {
    id: 'region-1-target',
    limit: seen('0.3'),
    unit: 'ft',
    source: 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13 (Colorado state file, doc 504322, page 22)',
    note: 'A target: it may be exceeded at the start and recover as the rate is adjusted',
  },
  {
    id: 'puls-and-barcelona-goal',
    limit: fromMemory('0.1', 'high'),
    unit: 'm',
    source: 'Puls & Barcelona 1996, EPA/540/S-95/504, from memory',
    note: 'A goal that may be hard to meet',
  },
  {
    id: 'quarter-of-screen-top-to-intake',
    limit: fromMemory('25', 'medium'),
    unit: 'percent-of-screen-top-to-intake',
    source: 'Attributed to the line of ASTM D6771 and Yeskis & Zavala 2002; the primary source was not confirmed',
  },
  {
    id: 'steady-at-any-depth',
    source: 'ASTM D6771-21, section 5.2: not usable where drawdown keeps growing',
  },
  {
    id: 'tenth-of-screen-length',
    limit: seen('10'),
    unit: 'percent-of-screen-length',
    source: 'Bioremediation protocol of 1995, California county file, doc 543521, page 121',
    note: 'Worded as less than 10 %',
  },
  {
    id: 'twentieth-of-water-column',
    limit: seen('5'),
    unit: 'percent-of-water-column',
    source: "A regulator's file, California county file, doc 276400, page 39",
  },
  {
    id: 'army-depot-target',
    limit: seen('0.3'),
    unit: 'ft',
    source: 'Army depot procedure SOP-009, Rev. 1, April 2019, California county file, doc 798934, page 93',
    note: 'A target: 10 ft or more is tolerated in extreme cases if it is stable',
  },
];
