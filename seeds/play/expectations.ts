import type { WellStanding } from '../../src/reads/event-status-result.ts';
import type { CrewName } from '../firm/people.ts';
import type { WellName } from '../firm/wells.ts';

/** How each well is to stand when the play is over: its standing, or how the visit ended. */
export const WELLS_EXPECTED: Readonly<
  Record<WellName, { readonly standing: WellStanding; readonly outcome?: string }>
> = {
  'MW-1': { standing: 'sampled' },
  'MW-2': { standing: 'sampled' },
  'MW-3': { standing: 'sampled' },
  'MW-4S': { standing: 'sampled' },
  'MW-4D': { standing: 'sampled' },
  'MW-5': { standing: 'sampled' },
  'MW-6': { standing: 'ended', outcome: 'purged-dry' },
  'MW-7': { standing: 'sampled' },
  'MW-8': { standing: 'sampled' },
  'MW-9': { standing: 'sampled' },
  'MW-10': { standing: 'sampled' },
  'MW-11': { standing: 'ended', outcome: 'no-access' },
  'MW-12': { standing: 'purging' },
  'MW-13': { standing: 'sampled' },
  'MW-14': { standing: 'sampled' },
  'MW-15': { standing: 'not-started' },
};

/** Standing, addressee, rule and what it is about: every flag that the staged troubles raise, and no other. */
export const FLAGS_EXPECTED: readonly string[] = [
  'raised office device-clock-off Phone 5',
  'raised office call-differs MW-5',
  'cleared office call-differs MW-10',
  'raised tonight decon-incomplete-at-next-use MW-5',
  'raised office equipment-blank-failed APR-EB1',
  'raised tonight bubble-in-container MW-1',
  'raised office broken-at-receipt Cooler 1',
];

export const CONFLICTS_EXPECTED: readonly string[] = ['open field MW-1', 'open well-claim MW-9'];

/** Crews whose phones have sent everything, and the one whose has not. */
export const UNSENT_EXPECTED: Readonly<Record<CrewName, 'none' | 'some'>> = {
  'North crew': 'none',
  'South crew': 'none',
  'West crew': 'some',
};

/** Wells whose call is to agree with the assessment. MW-5 was called early, MW-6 went dry, the rest have no call. */
export const AGREEING: readonly WellName[] = [
  'MW-1',
  'MW-2',
  'MW-3',
  'MW-4S',
  'MW-4D',
  'MW-7',
  'MW-8',
  'MW-9',
  'MW-10',
  'MW-13',
  'MW-14',
];
