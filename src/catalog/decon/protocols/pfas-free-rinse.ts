import { fromMemory } from '../../figures.ts';
import type { DeconProtocol } from '../decon-protocol.ts';
import { COMMON_PRACTICE, dry, inOrder, wet } from './step-parts.ts';

const SOURCE = 'state guides on PFAS sampling, from memory';
const RECALLED = { source: SOURCE, verified: false };
const SOP_003 = {
  source: 'US Army depot procedure SOP-003, rev. 1, Apr 2019, 3.2, county file, doc 798934, page 69',
  verified: true,
};

export const pfasFreeRinse: DeconProtocol = {
  id: 'pfas-free-rinse',
  title: 'PFAS: checked detergent, checked potable water, water free of PFAS three times',
  document: 'Guides of states on sampling for PFAS',
  edition: 'not read',
  dated: 'not read',
  source: SOURCE,
  verified: false,
  against: ['pfas'],
  gear: ['downhole-pump', 'bladder-pump', 'tape-or-probe', 'hand-gear'],
  wrap: 'bag',
  note: 'No solvent that bears a fluorosurfactant, no aluminium foil; an equipment blank each day for each pump',
  steps: inOrder(
    wet(
      'detergent-scrub',
      'Scrub with a brush of polyethylene or PVC and a detergent that was checked to be free of PFAS.',
      ['detergent-solution'],
      RECALLED,
    ),
    wet('potable-rinse', 'Rinse with potable water that was checked for PFAS.', ['potable-water'], RECALLED),
    wet('pfas-free-rinse', 'Rinse with water certified free of PFAS.', ['pfas-free-water'], RECALLED, {
      leastTimes: fromMemory('3', 'medium'),
    }),
    dry('new-bladder', 'Put in a new bladder that is not of PTFE, such as one of polyethylene.', COMMON_PRACTICE, {
      change: 'bladder',
      onlyFor: ['bladder-pump'],
    }),
    dry('new-tubing', 'Cut new tubing to the length of the next well.', SOP_003, {
      change: 'tubing',
      onlyFor: ['bladder-pump'],
    }),
    dry('bag', 'Put it into a plastic bag without foil and label it.', RECALLED),
  ),
};
