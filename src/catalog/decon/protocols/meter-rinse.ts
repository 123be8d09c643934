import type { DeconProtocol } from '../decon-protocol.ts';
import { COMMON_PRACTICE, dry, inOrder, wet } from './step-parts.ts';

const SOURCE = 'procedure 10.0, decontamination of sampling equipment, Colorado state file, doc 861949, page 36';
const READ = { source: SOURCE, verified: true };

export const meterRinse: DeconProtocol = {
  id: 'meter-rinse',
  title: 'Meter and flow cell: wipe, rinse with deionized water',
  document: 'Procedure 10.0, Decontamination of Sampling Equipment, in a Colorado state file',
  edition: 'as filed',
  dated: 'not known',
  source: SOURCE,
  verified: false,
  against: ['organics', 'inorganics'],
  gear: ['meter', 'flow-cell'],
  wrap: 'bag',
  note: 'Rinse water is replaced between locations. What water may harm is wiped and not immersed',
  steps: inOrder(
    dry('empty-cell', 'Empty the flow cell and its lines.', COMMON_PRACTICE, {
      onlyFor: ['flow-cell'],
      makesWaste: true,
    }),
    dry('wipe', 'Wipe it clean with a damp towel.', READ),
    wet('rinse', 'Rinse sensors and cell with deionized water, new at each location.', ['deionized-water'], READ),
    dry('bag', 'Put it into a clean place or a clean plastic bag.', READ),
  ),
};
