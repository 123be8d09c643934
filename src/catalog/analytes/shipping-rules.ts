import { PUBLICATIONS, type Publication, recalled } from './publications.ts';
import { figure, type WrittenRule } from './rule-figure.ts';

function plan(doc: number, page: number): Publication {
  return { source: `a sampling plan, county file, doc ${doc}, page ${page}`, dated: 'not told', verified: true };
}

const laboratory = {
  source: 'advice of a river authority laboratory on packing coolers',
  dated: 'not told',
  verified: true,
} as const;

/** How samples are packed and sent. Where a bottle is above a limit, the shipper classifies it. */
export const SHIPPING_RULES = {
  waterIce: {
    ...plan(445417, 81),
    id: 'water-ice',
    wording: 'Ice of water, no dry ice and no packs; two bags or more, above and below; about 20 % of the cooler.',
    figures: [figure('ice-share', '20', '%'), figure('bags-least', '2', 'bags')],
  },
  moreIce: {
    ...laboratory,
    id: 'a-third-of-ice',
    wording:
      'A third of the space or more, 20 to 25 lb of ice for 50 quarts; what is warm is cooled in ice water first.',
    figures: [figure('ice-least', '20', 'lb'), figure('ice-most', '25', 'lb'), figure('for-cooler-of', '50', 'quart')],
  },
  absorbent: {
    ...plan(652488, 53),
    id: 'absorbent',
    wording: 'As much absorbent as there is liquid; vials apart from bottles that were rinsed with solvent.',
  },
  saturday: {
    source: 'sampling plans, county file, doc 956133, page 112, and doc 561412, page 45',
    dated: 'not told',
    verified: true,
    id: 'saturday',
    wording: 'Delivery on a Saturday is marked and booked.',
  },
  recordPerCooler: {
    ...plan(956133, 112),
    id: 'record-per-cooler',
    wording: 'A custody record in each cooler, with the number to follow it by; counts agree.',
  },
  winter: {
    source: 'advice of a laboratory on winter sampling',
    dated: 'not told',
    verified: true,
    id: 'winter',
    wording: 'In winter bottles must not freeze: they break.',
  },
  mercuryChloride: {
    source: 'US DOT PHMSA, interpretation 00-0249',
    dated: '2000-11-07',
    verified: true,
    id: 'mercury-chloride',
    wording: 'Water with mercuric chloride is no corrosive at or below 0.004 % by weight.',
    figures: [figure('at-most', '0.004', '%')],
  },
  aboveIsClassified: {
    ...PUBLICATIONS.commonPractice,
    id: 'above-is-classified',
    wording:
      'What is above the limits of transport is for the shipper to classify; concentrated acid sent unused is regulated.',
  },
  environmentalSample: {
    source: 'a plan in a mine permit file of Colorado, doc 861949, page 55, on 49 CFR 171.8',
    dated: 'not told',
    verified: true,
    id: 'environmental-sample',
    wording: 'A sample of the environment is no hazardous material unless it is known or suspected to be one.',
  },
  smallQuantities: {
    ...recalled('49 CFR 173.4'),
    id: 'small-quantities',
    wording: 'Small quantities by ground: 30 mL or g inside, 29 kg for the package, drop of 1.8 m, stack of 3 m.',
    figures: [
      figure('inner', '30', 'mL'),
      figure('package', '29', 'kg'),
      figure('drop', '1.8', 'm'),
      figure('stack', '3', 'm'),
    ],
  },
  exceptedQuantities: {
    ...recalled('49 CFR 173.4a'),
    id: 'excepted-quantities',
    wording:
      'Excepted quantities, inside and for the package: E1 30 and 1000 mL, E2 30 and 500, E3 30 and 300, E4 1 and 500, E5 1 and 300; E0 none. A mark of 100 by 100 mm at least.',
    figures: [figure('mark-side', '100', 'mm')],
  },
  leastQuantities: {
    ...recalled('49 CFR 173.4b'),
    id: 'least-quantities',
    wording: 'Least quantities: 1 mL or g inside, 100 in the package, 29 kg.',
    figures: [figure('inner', '1', 'mL'), figure('outer', '100', 'mL'), figure('package', '29', 'kg')],
  },
  dryIce: {
    ...recalled('49 CFR 173.217'),
    id: 'dry-ice',
    wording: 'Dry ice, for what is frozen: above 2.5 kg by air it needs marks; its weight is on the box.',
    figures: [figure('air-without-marks', '2.5', 'kg')],
  },
  shipBy: {
    ...PUBLICATIONS.commonPractice,
    id: 'ship-by',
    wording:
      'The latest shipment is the earliest deadline less transit and what the laboratory needs, back to when it last receives.',
  },
} as const satisfies Readonly<Record<string, WrittenRule>>;
