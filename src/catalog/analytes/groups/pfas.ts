import type { AnalyteGroup, ContainerMaterial, HoldingVariant, PreservationRule } from '../analyte-group.ts';
import {
  added,
  bottle,
  cool,
  days,
  filledBottle,
  filteredOnlyWithReason,
  ifShort,
  methodRecalled,
  nothingAdded,
  otherwise,
  prescribed,
  twoClocks,
} from '../group-parts.ts';
import type { Publication } from '../publications.ts';

const method1633 = methodRecalled('1633');
const method5371 = methodRecalled('537.1');
const method533 = methodRecalled('533');
const closure = 'cap of polypropylene, or without a liner';
const wholeBottle = 'No overflow: the whole bottle is used, and rinsed.';

interface Pfas {
  readonly said: Publication;
  readonly id: string;
  readonly method: string;
  readonly material: ContainerMaterial;
  readonly preservation: PreservationRule;
  readonly holding: readonly HoldingVariant[];
  readonly leastVolumeMl?: number;
}

function pfas({ said, id, method, material, preservation, holding, leastVolumeMl = 250 }: Pfas): AnalyteGroup {
  const container = bottle(said, 250, { materials: [material] });
  return {
    id,
    title: `PFAS by ${method}`,
    methods: [method],
    container: { ...container, closure },
    preservation,
    cooling: { ...cool(said), first: { hours: 48, atMostC: '10' } },
    filtration: filteredOnlyWithReason(),
    holding,
    filling: { ...filledBottle('pfas', 250), note: wholeBottle },
    shortWater: ifShort('pfas', leastVolumeMl),
  };
}

const bottles1633 = pfas({
  said: method1633,
  id: 'pfas-1633',
  method: 'EPA 1633',
  material: 'hdpe',
  preservation: nothingAdded(method1633),
  holding: [
    prescribed(method1633, twoClocks(days(28), days(90))),
    {
      ...otherwise(method1633, 'frozen', 'frozen', twoClocks(days(90), days(90)), 'Frozen at or below -20 °C.'),
      keptAtMostC: '-20',
    },
  ],
});

export const pfas1633: AnalyteGroup = {
  ...bottles1633,
  container: { ...bottles1633.container, bottles: { ...bottles1633.container.bottles, count: 2, mostVolumeMl: 500 } },
  cooling: { ...cool(method1633, true), mayFreeze: true },
};

export const pfas5371 = pfas({
  said: method5371,
  id: 'pfas-537-1',
  method: 'EPA 537.1',
  material: 'polypropylene',
  preservation: { ...added(method5371, [['trizma']]), gramsPerL: '5' },
  holding: [prescribed(method5371, twoClocks(days(14), days(28)))],
});

export const pfas533 = pfas({
  said: method533,
  id: 'pfas-533',
  method: 'EPA 533',
  material: 'polypropylene',
  preservation: { ...added(method533, [['ammonium-acetate']]), gramsPerL: '1' },
  holding: [prescribed(method533, twoClocks(days(28), days(28)))],
  leastVolumeMl: 100,
});
