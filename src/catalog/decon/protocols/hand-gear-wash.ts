import { seen } from '../../figures.ts';
import type { DeconProtocol } from '../decon-protocol.ts';
import { dry, inOrder, wet } from './step-parts.ts';

const SOURCE = 'US Army depot procedure SOP-003, rev. 1, Apr 2019, 3.2, county file, doc 798934, page 69';
const READ = { source: SOURCE, verified: true };

export const handGearWash: DeconProtocol = {
  id: 'hand-gear-wash',
  title: 'Hand gear: brush, detergent, potable water, distilled water three times',
  document: 'US Army depot, SOP-003, Equipment Decontamination Procedures',
  edition: 'Revision 1',
  dated: '2019-04',
  source: SOURCE,
  verified: true,
  against: ['organics', 'inorganics'],
  gear: ['hand-gear', 'tape-or-probe'],
  wrap: 'foil-and-bag',
  note: 'Wash and rinse water is new at each location, and no rinse water serves two rinses',
  steps: inOrder(
    wet('brush-and-rinse', 'Brush off what sticks and rinse with potable water.', ['potable-water'], READ),
    wet('detergent-wash', 'Wash with a brush and a detergent without phosphate.', ['detergent-solution'], READ),
    wet('potable-rinse', 'Rinse thoroughly with potable water.', ['potable-water'], READ),
    wet('distilled-rinse', 'Rinse with distilled water, each time with new water.', ['distilled-water'], READ, {
      leastTimes: seen('3'),
    }),
    dry('wrap-and-label', 'Wrap it in new aluminium foil, shiny side out, or what is bulky in clean sheeting.', READ, {
      when: 'it is not used again at once',
    }),
  ),
};
