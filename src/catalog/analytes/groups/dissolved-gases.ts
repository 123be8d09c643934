import type { AnalyteGroup } from '../analyte-group.ts';
import {
  added,
  cool,
  days,
  filledToTheBrim,
  ifShort,
  neverFiltered,
  otherwise,
  prescribed,
  toAnalysis,
  vials,
} from '../group-parts.ts';
import { PUBLICATIONS, recalled } from '../publications.ts';

const rsk = recalled('US EPA, RSK-175');

export const dissolvedGases: AnalyteGroup = {
  id: 'dissolved-gases',
  title: 'Methane, ethane and ethene',
  methods: ['RSK-175'],
  container: {
    ...vials(rsk, PUBLICATIONS.usualRequest),
    closure: 'septum of butyl rubber or faced with fluoropolymer; or a serum bottle',
    note: 'At about 20 mg/L of methane and above, vials that are filled open read low (Molofsky et al., Groundwater).',
  },
  preservation: {
    ...added(rsk, [['hydrochloric-acid']], { below: '2' }),
    note: 'None where carbon dioxide is asked for.',
  },
  cooling: cool(rsk),
  filtration: neverFiltered(),
  holding: [
    prescribed(rsk, toAnalysis(days(14))),
    otherwise(rsk, 'not-acidified', 'not-preserved', toAnalysis(days(7)), 'No acid was added.'),
  ],
  filling: filledToTheBrim('dissolved-gases'),
  shortWater: ifShort('dissolved-gases', 40),
};
