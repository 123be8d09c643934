import { seen } from '../../figures.ts';
import type { DeconProtocol } from '../decon-protocol.ts';
import { COMMON_PRACTICE, dry, inOrder, wet } from './step-parts.ts';

const SOURCE = 'US Army depot procedure SOP-003, rev. 1, Apr 2019, 3.2, county file, doc 798934, page 69';
const READ = { source: SOURCE, verified: true };

/** The parts to replace and the wash were read; that the pump is taken apart and its O-rings looked at is common practice. */
export const bladderPumpNewParts: DeconProtocol = {
  id: 'bladder-pump-new-parts',
  title: 'Bladder pump between wells: wash, new bladder, new tubing',
  document: 'US Army depot, SOP-003, Equipment Decontamination Procedures',
  edition: 'Revision 1',
  dated: '2019-04',
  source: SOURCE,
  verified: false,
  against: ['organics', 'inorganics'],
  gear: ['bladder-pump'],
  wrap: 'foil-and-bag',
  note: 'No soft part that was wet is used again',
  steps: inOrder(
    dry('take-apart', 'Release the pressure, disconnect the gas, pull the pump and take it apart.', COMMON_PRACTICE, {
      caution:
        'A line under pressure whips: release it before anything is undone. The site safety plan, local codes and licensed practice decide.',
    }),
    wet('brush-and-rinse', 'Brush off what sticks and rinse with potable water.', ['potable-water'], READ),
    wet(
      'detergent-wash',
      'Wash with a brush and a detergent without phosphate, mixed anew here.',
      ['detergent-solution'],
      READ,
    ),
    wet('potable-rinse', 'Rinse thoroughly with potable water.', ['potable-water'], READ),
    wet('distilled-rinse', 'Rinse with distilled water, each time with new water.', ['distilled-water'], READ, {
      leastTimes: seen('3'),
    }),
    dry('new-bladder', 'Put in a new bladder.', READ, { change: 'bladder' }),
    dry('new-tubing', 'Cut new tubing to the length of the next well.', READ, { change: 'tubing' }),
    dry('o-rings', 'Look at the O-rings and replace what is missing or worn: a missing one leaks.', COMMON_PRACTICE),
    dry('wrap-and-label', 'Wrap it and label it with how it was cleaned and the date.', READ, {
      when: 'it is not used again at once',
    }),
  ),
};
