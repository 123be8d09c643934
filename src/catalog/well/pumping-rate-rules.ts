import type { Figure } from '../criteria-set.ts';
import { fromMemory, seen } from '../figures.ts';

/** What a document says of how fast a well is pumped, or a bottle filled. Figures are in mL/min. */
export interface PumpingRateRule {
  readonly id: string;
  readonly of: 'starting' | 'purging' | 'filling' | 'low-yield';
  /** Bottles of these only: of volatiles, or of everything else. */
  readonly suites?: 'volatiles' | 'others';
  readonly atLeast?: Figure;
  readonly atMost?: Figure;
  /** Worded as "less than": exactly at it is beyond it. */
  readonly strictly?: true;
  /** Worded as "about": what is a little beyond it is for the plan to say. */
  readonly about?: true;
  /** No faster than the well was purged. */
  readonly atPurgeRate?: true;
  readonly wording: string;
  readonly source: string;
  readonly verified: boolean;
}

const ARMY = 'Army depot SOP-009, Rev. 1, Apr 2019, county file, doc 798934, pages 93 and 97';
const RCRA = 'EPA, RCRA ground-water monitoring, draft technical guidance, Nov 1992, ch. 7, read in a copy';
const USGS = 'USGS National Field Manual 4.2, method summary 9501 of the methods index';

/** Published rates, side by side. Which of them holds is for the plan to say. */
export const PUMPING_RATE_RULES: readonly PumpingRateRule[] = [
  {
    id: 'start-at-100-ml',
    of: 'starting',
    atMost: seen('100'),
    about: true,
    wording: 'start at about 100 mL/min and check the level every minute at first',
    source: 'county file, doc 932734, page 77',
    verified: true,
  },
  {
    id: 'usually-below-1-l',
    of: 'purging',
    atMost: seen('1000'),
    strictly: true,
    wording: 'usually less than 1 L/min',
    source: 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 1 of 13',
    verified: true,
  },
  {
    id: 'low-flow-below-1-l',
    of: 'purging',
    atMost: seen('1000'),
    strictly: true,
    wording: 'low flow is less than 1 L/min; the volume needed hardly depends on the size of the well',
    source: 'Puls 1994, EPA/600/J-94/087, abstract',
    verified: true,
  },
  {
    id: 'typically-100-to-500-ml',
    of: 'purging',
    atLeast: fromMemory('100', 'high'),
    atMost: fromMemory('500', 'high'),
    wording: '0.1 to 0.5 L/min is typical; up to 1 L/min in coarse material',
    source: 'Puls and Barcelona 1996, EPA/540/S-95/504, from memory',
    verified: false,
  },
  {
    id: 'army-depot-purging',
    of: 'purging',
    atMost: seen('500'),
    wording: '0.2 to 0.3 L/min, at most 0.5 L/min',
    source: ARMY,
    verified: true,
  },
  {
    id: 'army-depot-filling',
    of: 'filling',
    atMost: seen('400'),
    atPurgeRate: true,
    wording: 'sample at the rate of the purge, at most 400 mL/min',
    source: ARMY,
    verified: true,
  },
  {
    id: 'no-faster-than-purged',
    of: 'filling',
    atPurgeRate: true,
    wording: 'sample no faster than the well was purged',
    source: RCRA,
    verified: true,
  },
  {
    id: 'volatiles-at-100-ml',
    of: 'filling',
    suites: 'volatiles',
    atMost: seen('100'),
    about: true,
    wording: 'about 0.1 L/min for volatiles',
    source: RCRA,
    verified: true,
  },
  {
    id: 'vials-at-most-150-ml',
    of: 'filling',
    suites: 'volatiles',
    atMost: seen('150'),
    wording: 'at most 150 mL/min into 40-mL vials for volatiles',
    source: USGS,
    verified: true,
  },
  {
    id: 'bottles-at-most-500-ml',
    of: 'filling',
    suites: 'others',
    atMost: seen('500'),
    wording: 'at most 500 mL/min into bottles of 250 mL and more',
    source: USGS,
    verified: true,
  },
  {
    id: 'some-need-10-ml',
    of: 'low-yield',
    atMost: seen('10'),
    about: true,
    wording: 'some wells of low yield took about 10 mL/min, and a few litres in all',
    source: 'McCarthy and Shevenell 1998, Ground Water, doi 10.1111/j.1745-6584.1998.tb01090.x, abstract',
    verified: true,
  },
];
