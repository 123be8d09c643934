import type { Preservative } from './analyte-group.ts';
import { type Publication, recalled } from './publications.ts';

/** Up to which share of acid or base preserved water is not a corrosive in transport. */
export interface TransportLimit extends Publication {
  readonly id: Preservative;
  readonly title: string;
  /** By weight. */
  readonly atMostPercent: string;
  /** What that share makes of water, by footnote 3 of Table II. */
  readonly ph: Publication & ({ readonly atLeast: string } | { readonly atMost: string });
  readonly molarMass: Publication & { readonly gramsPerMol: string };
}

const phmsa = { source: 'US DOT PHMSA, interpretation 00-0249', dated: '2000-11-07', verified: true } as const;
const footnote3 = recalled('40 CFR 136.3, Table II, footnote 3');
const atomicWeights = recalled('IUPAC, standard atomic weights');

function grams(gramsPerMol: string): TransportLimit['molarMass'] {
  return { ...atomicWeights, gramsPerMol };
}

export const TRANSPORT_LIMITS: readonly TransportLimit[] = [
  {
    ...phmsa,
    id: 'hydrochloric-acid',
    title: 'Hydrochloric acid in water',
    atMostPercent: '0.04',
    ph: { ...footnote3, atLeast: '1.96' },
    molarMass: grams('36.46'),
  },
  {
    ...phmsa,
    id: 'nitric-acid',
    title: 'Nitric acid in water',
    atMostPercent: '0.15',
    ph: { ...footnote3, atLeast: '1.62' },
    molarMass: grams('63.01'),
  },
  {
    ...footnote3,
    id: 'sulfuric-acid',
    title: 'Sulfuric acid in water',
    atMostPercent: '0.35',
    ph: { ...footnote3, atLeast: '1.15' },
    molarMass: grams('98.08'),
  },
  {
    ...footnote3,
    id: 'sodium-hydroxide',
    title: 'Sodium hydroxide in water',
    atMostPercent: '0.080',
    ph: { ...footnote3, atMost: '12.30' },
    molarMass: grams('40.00'),
  },
];

/** Undefined for what has no limit of its own in footnote 3. */
export function transportLimit(preservative: Preservative): TransportLimit | undefined {
  return TRANSPORT_LIMITS.find(({ id }) => id === preservative);
}
