export const DECON_FLUIDS = [
  'potable-water',
  'detergent-solution',
  'deionized-water',
  'distilled-water',
  'reagent-water',
  'organic-free-water',
  'pfas-free-water',
  'hydrochloric-acid',
  'nitric-acid',
  'acetone',
  'isopropanol',
  'methanol',
] as const;
export type DeconFluidId = (typeof DECON_FLUIDS)[number];

/** What a protocol washes or rinses with. */
export interface DeconFluid {
  readonly id: DeconFluidId;
  readonly written: string;
  /** How it is recognised in what a crew writes. */
  readonly words: RegExp;
  /** What else it may be used instead of: a purer water for a plainer one, never the other way. */
  readonly insteadOf: readonly DeconFluidId[];
  /** What to mind; it defers to the site safety plan. */
  readonly caution: string | null;
  readonly source: string;
  readonly verified: boolean;
}

const PRACTICE = 'common practice, no source';
const SUPPLIES = 'US Geological Survey, Open-File Report 00-213, appendix E (supplies for cleaning field equipment)';
const DEFERS = 'The site safety plan, local codes and licensed practice decide.';

const ACID_CAUTION = `Acid burns eyes and skin: goggles, gloves and apron, water at hand; never together with bleach or solvent, and its rinsate into a vessel for neutralising. ${DEFERS}`;
const SOLVENT_CAUTION = `Solvent burns, and its vapour with air may explode: goggles and gloves that stand it, open air, no flame, battery or running engine near; its rinsate into a container of its own. ${DEFERS}`;

const PLAIN = ['potable-water'] as const;
const PURE = ['potable-water', 'deionized-water', 'distilled-water', 'reagent-water'] as const;

/** Every fluid of the protocols. That a purer water does for a plainer one is common practice. */
export const DECON_FLUID_LIST: readonly DeconFluid[] = [
  {
    id: 'potable-water',
    written: 'potable water',
    words: /\b(?:potable|tap|city|municipal|drinking)\b/i,
    insteadOf: [],
    caution: null,
    source: PRACTICE,
    verified: false,
  },
  {
    id: 'detergent-solution',
    written: 'solution of a detergent without phosphate',
    words: /detergent|soap/i,
    insteadOf: [],
    caution: null,
    source: SUPPLIES,
    verified: true,
  },
  {
    id: 'deionized-water',
    written: 'deionized water',
    words: /\bde-?ioni[sz]ed\b|\bdiw?\b/i,
    insteadOf: [...PLAIN, 'distilled-water', 'reagent-water'],
    caution: null,
    source: PRACTICE,
    verified: false,
  },
  {
    id: 'distilled-water',
    written: 'distilled water',
    words: /\bdistilled\b/i,
    insteadOf: [...PLAIN, 'deionized-water', 'reagent-water'],
    caution: null,
    source: PRACTICE,
    verified: false,
  },
  {
    id: 'reagent-water',
    written: 'reagent-grade water',
    words: /\breagent(?:[- ]grade)? water\b/i,
    insteadOf: [...PLAIN, 'deionized-water', 'distilled-water'],
    caution: null,
    source: PRACTICE,
    verified: false,
  },
  {
    id: 'organic-free-water',
    written: 'water free of organics, as the laboratory certifies it',
    words: /organic-?\s?free|\bvolatiles?-?\s?free|pesticide-?\s?free/i,
    insteadOf: PURE,
    caution: null,
    source: SUPPLIES,
    verified: true,
  },
  {
    id: 'pfas-free-water',
    written: 'water free of PFAS, as the laboratory certifies it',
    words: /pfas-?\s?free/i,
    insteadOf: PURE,
    caution: null,
    source: 'state guides on PFAS sampling, from memory',
    verified: false,
  },
  {
    id: 'hydrochloric-acid',
    written: 'dilute hydrochloric acid',
    words: /hydrochloric|\bhcl\b/i,
    insteadOf: [],
    caution: ACID_CAUTION,
    source: SUPPLIES,
    verified: true,
  },
  {
    id: 'nitric-acid',
    written: 'dilute nitric acid',
    words: /\bnitric\b|\bhno3\b/i,
    insteadOf: [],
    caution: ACID_CAUTION,
    source: SUPPLIES,
    verified: true,
  },
  {
    id: 'acetone',
    written: 'acetone, reagent grade',
    words: /acetone/i,
    insteadOf: [],
    caution: SOLVENT_CAUTION,
    source: 'agency guidance, county file, doc 612081, page 26',
    verified: true,
  },
  {
    id: 'isopropanol',
    written: 'isopropanol, pesticide grade',
    words: /isopropanol|isopropyl|propan-2-ol|2-propanol/i,
    insteadOf: [],
    caution: SOLVENT_CAUTION,
    source: 'Colorado state file, doc 861949, page 36',
    verified: true,
  },
  {
    id: 'methanol',
    written: 'methanol, pesticide grade',
    words: /methanol|methyl alcohol/i,
    insteadOf: [],
    caution: SOLVENT_CAUTION,
    source: SUPPLIES,
    verified: true,
  },
];

const BY_ID: ReadonlyMap<string, DeconFluid> = new Map(DECON_FLUID_LIST.map((fluid) => [fluid.id, fluid]));

export function deconFluid(id: DeconFluidId): DeconFluid {
  const fluid = BY_ID.get(id);
  if (fluid === undefined) throw new RangeError(`${id} is no fluid of the catalog`);
  return fluid;
}

/** The fluids that a text names: none where it says nothing that is known here. */
export function fluidsNamed(text: string): readonly DeconFluid[] {
  return DECON_FLUID_LIST.filter(({ words }) => words.test(text));
}
