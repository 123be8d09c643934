import type { AnalyteGroup, FillClass } from './analyte-group.ts';
import { PUBLICATIONS, type Publication, recalled } from './publications.ts';

export const FILL_ORDER_IDS = ['epa-1992', 'state-solid-waste-rule', 'usgs-field-manual'] as const;
export type FillOrderId = (typeof FILL_ORDER_IDS)[number];

/** Where PFAS come: a choice of the plan, as no list of the others names them. */
export const PFAS_PLACES = ['first', 'after-volatiles'] as const;
export type PfasPlace = (typeof PFAS_PLACES)[number];

export interface FillStep extends Publication {
  readonly classes: readonly FillClass[];
}

/** The order within a well, as one document gives it. */
export interface FillOrder {
  readonly id: FillOrderId;
  readonly title: string;
  readonly steps: readonly FillStep[];
}

function steps(said: Publication, ...classes: readonly (readonly FillClass[])[]): readonly FillStep[] {
  return classes.map((step) => ({ ...said, classes: step }));
}

const stateRule = {
  source: 'a state solid-waste rule that quotes US EPA, read in a copy',
  dated: 'not told',
  verified: true,
};
const fieldManual = {
  source: 'US Geological Survey, National Field Manual, chapter A5, 5.0.2, archived',
  dated: 'not told',
  verified: true,
};

export const FILL_ORDERS: Readonly<Record<FillOrderId, FillOrder>> = {
  'epa-1992': {
    id: 'epa-1992',
    title: 'US EPA 1992: by volatility',
    steps: [
      ...steps(
        PUBLICATIONS.epa1992Order,
        ['volatiles', 'organic-halides'],
        ['dissolved-gases', 'organic-carbon'],
        ['semivolatiles'],
        ['filtered-metals', 'metals', 'cyanide'],
        ['major-ions'],
      ),
      ...steps(recalled('US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, p. 7-19'), [
        'radionuclides',
      ]),
    ],
  },
  'state-solid-waste-rule': {
    id: 'state-solid-waste-rule',
    title: 'A state solid-waste rule: filtered samples before large volumes',
    steps: steps(
      stateRule,
      ['volatiles'],
      ['organic-carbon'],
      ['organic-halides'],
      ['filtered-metals'],
      ['semivolatiles'],
      ['metals'],
      ['nutrients', 'major-ions'],
    ),
  },
  'usgs-field-manual': {
    id: 'usgs-field-manual',
    title: 'USGS: volatiles, filtered trace elements, nutrients and ions',
    steps: steps(fieldManual, ['volatiles'], ['filtered-metals'], ['nutrients', 'major-ions']),
  },
};

/** The default where a plan names no order: the one that names most. */
export const DEFAULT_FILL_ORDER: FillOrderId = 'epa-1992';

export interface PlacedGroup {
  readonly group: AnalyteGroup;
  /** From 1; groups with the same one are filled in any order. */
  readonly place: number;
  /** Whether the list names it; what it does not name comes last. */
  readonly isNamed: boolean;
}

function classesInOrder(order: FillOrder, pfas: PfasPlace): readonly (readonly FillClass[])[] {
  const named = order.steps.map(({ classes }) => classes);
  if (pfas === 'first') return [['pfas'], ...named];
  const after = named.findIndex((classes) => classes.includes('volatiles')) + 1;
  return [...named.slice(0, after), ['pfas'], ...named.slice(after)];
}

/**
 * Groups in the order in which they are filled. What the list does not name comes after all that it names, in the order in
 * which it was given; the plan may place it otherwise.
 */
export function inFillOrder(groups: readonly AnalyteGroup[], id: FillOrderId, pfas: PfasPlace): readonly PlacedGroup[] {
  const order = classesInOrder(FILL_ORDERS[id], pfas);
  return groups
    .map((group) => {
      const at = order.findIndex((classes) => classes.includes(group.filling.fillClass));
      return { group, place: at < 0 ? order.length + 1 : at + 1, isNamed: at >= 0 };
    })
    .toSorted((a, b) => a.place - b.place);
}
