import type { AnalyteGroup } from '../analyte-group.ts';
import {
  bottle,
  cool,
  days,
  filledBottle,
  filteredAsPlanned,
  ifShort,
  methodRecalled,
  notCooled,
  nothingAdded,
  prescribed,
  toAnalysis,
} from '../group-parts.ts';
import { recalled } from '../publications.ts';

const method314 = methodRecalled('314.0');
const bySpectrometry = recalled('EPA Methods 331.0 and 332.0, SW-846 6850');

export const perchlorate: AnalyteGroup = {
  id: 'perchlorate',
  title: 'Perchlorate by ion chromatography',
  methods: ['EPA 314.0'],
  container: bottle(method314, 125, { materials: ['polyethylene', 'glass'] }),
  preservation: nothingAdded(method314),
  cooling: notCooled(method314),
  filtration: filteredAsPlanned(),
  holding: [prescribed(method314, toAnalysis(days(28)))],
  filling: filledBottle('major-ions', 125),
  shortWater: ifShort('major-ions', 50),
};

export const perchlorateLowLevel: AnalyteGroup = {
  id: 'perchlorate-low-level',
  title: 'Perchlorate by mass spectrometry',
  methods: ['EPA 331.0', 'EPA 332.0', 'SW-846 6850'],
  container: { ...bottle(bySpectrometry, 125, { materials: ['polyethylene'] }), note: 'Sterile.' },
  preservation: nothingAdded(bySpectrometry),
  cooling: cool(bySpectrometry),
  filtration: { ...bySpectrometry, filter: 'sterile-filter', poreMicrometers: '0.2' },
  holding: [prescribed(bySpectrometry, toAnalysis(days(28)))],
  filling: {
    ...bySpectrometry,
    fillClass: 'major-ions',
    headspace: 'leave-a-third',
    note: 'A third or more of the bottle stays air, so that what lives in the water does not use perchlorate up.',
  },
  shortWater: ifShort('major-ions', 50),
};
