/** Kinds of pumps for purging and sampling, by type. */
export const PUMP_KINDS = ['bladder-pump', 'submersible-pump', 'peristaltic-pump'] as const;
export type PumpKindName = (typeof PUMP_KINDS)[number];

export interface PumpKind {
  readonly name: PumpKindName;
  readonly written: string;
  readonly lifts: 'by-pushing' | 'by-suction';
  /** What of it goes down the casing. */
  readonly downhole: 'pump' | 'tubing-only';
  readonly drivenBy: 'compressed-gas' | 'electric-motor-in-the-well' | 'electric-motor-at-the-surface';
  readonly forVolatiles: { readonly rating: 'excellent' | 'poor'; readonly source: string; readonly verified: boolean };
  /** Smallest casing that a document states; null where none was found. */
  readonly smallestCasing: {
    readonly insideDiameterIn: string;
    readonly source: string;
    readonly verified: boolean;
  } | null;
}

const HAWAII = 'Hawaii Department of Health, Technical Guidance Manual, Table 6-2';

export const PUMP_KIND_LIST: readonly PumpKind[] = [
  {
    name: 'bladder-pump',
    written: 'bladder pump',
    lifts: 'by-pushing',
    downhole: 'pump',
    drivenBy: 'compressed-gas',
    forVolatiles: { rating: 'excellent', source: HAWAII, verified: true },
    smallestCasing: {
      insideDiameterIn: '1.5',
      source:
        'FRTR, section 4.3.1: smallest well 1.5 in; Parker, Govoni and Stutz 2004, ERDC/CRREL TR-04-24, tried ones of 3/4 and 1/2 in',
      verified: true,
    },
  },
  {
    name: 'submersible-pump',
    written: 'submersible pump',
    lifts: 'by-pushing',
    downhole: 'pump',
    drivenBy: 'electric-motor-in-the-well',
    forVolatiles: { rating: 'excellent', source: `${HAWAII}, positive displacement`, verified: true },
    smallestCasing: null,
  },
  {
    name: 'peristaltic-pump',
    written: 'peristaltic pump',
    lifts: 'by-suction',
    downhole: 'tubing-only',
    drivenBy: 'electric-motor-at-the-surface',
    forVolatiles: { rating: 'poor', source: HAWAII, verified: true },
    smallestCasing: null,
  },
];
