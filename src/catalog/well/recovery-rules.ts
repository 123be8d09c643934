/**
 * What documents on file ask before a well that was pumped down is sampled. None says whether the percentage is of the
 * drawdown or of the standing column: the plan has to.
 */
export interface RecoveryRule {
  readonly id: string;
  /** Share that shall be back; null where only time counts. */
  readonly percent: string | null;
  /** Not to be sampled before, in hours. */
  readonly notBeforeH: string | null;
  /** Sampled, or recorded as dry, at the latest, in hours. */
  readonly notAfterH: string | null;
  readonly wording: string;
  readonly source: string;
  readonly verified: boolean;
}

export const RECOVERY_RULES: readonly RecoveryRule[] = [
  {
    id: 'as-soon-as-enough-has-recovered',
    percent: null,
    notBeforeH: null,
    notAfterH: null,
    wording:
      'essentially dewatered: sample as soon as enough has recovered; do not move the intake; stability not required',
    source: 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13',
    verified: true,
  },
  {
    id: 'recovered-80-percent-or-24-hours',
    percent: '80',
    notBeforeH: null,
    notAfterH: '24',
    wording: 'recover to at least 80 % of static, or 24 h, whichever comes first',
    source: 'county file, doc 611837, page 13',
    verified: true,
  },
  {
    id: 'recovered-80-percent-within-1-to-8-hours',
    percent: '80',
    notBeforeH: '1',
    notAfterH: '8',
    wording: '80 % recovery, or at least 1 h and at most 8 h',
    source: 'county file, doc 579212, page 34',
    verified: true,
  },
  {
    id: 'recovered-70-percent',
    percent: '70',
    notBeforeH: null,
    notAfterH: null,
    wording: 'at least 70 % recovery; less than 70 % after 1 h is a low yield',
    source: 'county file, doc 611862, page 25',
    verified: true,
  },
  {
    id: 'within-24-hours-or-dry',
    percent: null,
    notBeforeH: null,
    notAfterH: '24',
    wording: 'recover up to 24 h; otherwise record as dry',
    source: 'county files, doc 600417, page 52, and doc 453809, page 12',
    verified: true,
  },
];
