/** When gear is decontaminated, as documents put it. */
export interface DeconWhenRule {
  readonly id: string;
  readonly moments: readonly (
    | 'before-the-first-well'
    | 'after-every-well'
    | 'between-locations'
    | 'before-leaving-the-site'
    | 'before-the-event'
    | 'after-the-event'
    | 'before-first-use'
  )[];
  readonly wording: string;
  readonly source: string;
  readonly verified: boolean;
}

export const DECON_WHEN_RULES: readonly DeconWhenRule[] = [
  {
    id: 'first-well-and-every-well',
    moments: ['before-the-first-well', 'after-every-well'],
    wording: 'Before use in the first well and after the sampling of every well.',
    source: 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8 of 13',
    verified: true,
  },
  {
    id: 'between-locations-and-before-leaving',
    moments: ['between-locations', 'before-leaving-the-site'],
    wording: 'Between sampling locations, and before leaving the site.',
    source: 'US Army depot procedure SOP-003, rev. 1, Apr 2019, 3.2, county file, doc 798934, page 69',
    verified: true,
  },
  {
    id: 'before-between-and-after-events',
    moments: ['before-the-event', 'after-the-event'],
    wording: 'Before, between and after sampling events.',
    source: 'ASTM D5088-02 (2008), section 5, as shown in a preview',
    verified: true,
  },
  {
    id: 'new-gear-before-use',
    moments: ['before-first-use'],
    wording:
      'New gear, and gear not known to be clean, before use; disposable bailers and polyethylene tubing are used as they come.',
    source: 'US Army depot procedure SOP-003, rev. 1, Apr 2019, 3.1, county file, doc 798934, page 68',
    verified: true,
  },
];
