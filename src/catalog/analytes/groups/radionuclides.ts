import type { AnalyteGroup } from '../analyte-group.ts';
import {
  added,
  bottle,
  filledBottle,
  ifShort,
  notCooled,
  prescribed,
  sixMonths,
  toAnalysis,
  unfiltered,
} from '../group-parts.ts';
import { PUBLICATIONS } from '../publications.ts';

const { tableIIRecalled } = PUBLICATIONS;

export const radionuclides: AnalyteGroup = {
  id: 'radionuclides',
  title: 'Gross alpha and beta, radium 226 and 228',
  methods: ['EPA 900.0', 'EPA 903.1', 'EPA 904.0'],
  container: bottle(tableIIRecalled, 1_000, { materials: ['polyethylene'], mostVolumeMl: 4_000 }),
  preservation: added(tableIIRecalled, [['nitric-acid']], { below: '2' }),
  cooling: notCooled(tableIIRecalled),
  filtration: unfiltered(),
  holding: [prescribed(tableIIRecalled, toAnalysis(sixMonths()))],
  filling: filledBottle('radionuclides', 1_000),
  shortWater: ifShort('radionuclides', 1_000),
};
