import type { DeconProtocol } from '../decon-protocol.ts';
import { dry, inOrder, wet } from './step-parts.ts';

const SOURCE =
  'procedure 10.0, decontamination of sampling equipment, 5.1.1.1, Colorado state file, doc 861949, page 36';
const READ = { source: SOURCE, verified: true };
const OILY = 'an oily film or a stain stays on';

export const tapeWipeDown: DeconProtocol = {
  id: 'tape-wipe-down',
  title: 'Water-level tape or probe: wipe while reeling in, spray the probe',
  document: 'Procedure 10.0, Decontamination of Sampling Equipment, in a Colorado state file',
  edition: 'as filed',
  dated: 'not known',
  source: SOURCE,
  verified: true,
  against: ['organics', 'inorganics'],
  gear: ['tape-or-probe'],
  wrap: 'bag',
  steps: inOrder(
    wet(
      'wipe-tape',
      'Reel in slowly through a towel wet with deionized water and then a dry one; take fresh towels as they soil.',
      ['deionized-water'],
      READ,
      { makesWaste: false },
    ),
    wet(
      'rinse-probe',
      'Spray the probe with deionized water and wipe it dry with a clean towel.',
      ['deionized-water'],
      READ,
      { makesWaste: false },
    ),
    wet('solvent-wipe', 'Wipe the tape with a towel wet with isopropanol until it is clean.', ['isopropanol'], READ, {
      when: OILY,
      makesWaste: false,
    }),
    wet(
      'rinse-after-solvent',
      'Rinse the tape thoroughly with deionized water, as solvents harm it, wipe it dry and let it air dry.',
      ['deionized-water'],
      READ,
      { when: OILY },
    ),
    dry('bag', 'Put it into its clean case or a clean plastic bag.', READ),
  ),
};
