import type { DeconProtocol } from '../decon-protocol.ts';
import { dry, inOrder, wet } from './step-parts.ts';

const SOURCE = 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8 and 9 of 13';
const READ = {
  source: 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8 of 13, read in a copy',
  verified: true,
};
const RECALLED = { source: `${SOURCE}, from memory`, verified: false };

/**
 * Page 8, what is cleaned and when, was read; the order of the flushes is from memory. The fluids are pumped from
 * buckets or short lengths of casing, or the pump is taken apart.
 */
export const pumpFlush: DeconProtocol = {
  id: 'pump-flush',
  title: 'Pump: flush outside and inside, detergent between two waters',
  document: 'US EPA Region 1, Low Stress Purging and Sampling, SOP GW 0001',
  edition: 'Revision 2',
  dated: '1996-07-30',
  source: SOURCE,
  verified: false,
  against: ['organics', 'inorganics'],
  gear: ['downhole-pump', 'bladder-pump'],
  wrap: 'foil-and-bag',
  note: 'With the pump go its tubing, support cable and wires, as far as they were in the well',
  steps: inOrder(
    dry(
      'tubing',
      'Leave the tubing in its well, discard it, or clean it with the pump; clean the cable and wires that were in the well.',
      READ,
    ),
    wet('outside-flush', 'Flush the outside of pump, cable and wires.', ['potable-water'], RECALLED),
    wet('first-water', 'Pump potable water through.', ['potable-water'], RECALLED),
    wet(
      'detergent-flush',
      'Pump a solution of a detergent without phosphate through.',
      ['detergent-solution'],
      RECALLED,
    ),
    wet('second-water', 'Pump potable water through until no detergent comes.', ['potable-water'], RECALLED),
    wet('solvent-flush', 'Pump isopropanol of pesticide grade through.', ['isopropanol'], RECALLED, {
      when: 'equipment blanks show that water and detergent do not suffice',
      caution: 'No motor that may spark, and no running engine, near a solvent.',
    }),
    wet('final-flush', 'Pump distilled or deionized water through.', ['distilled-water', 'deionized-water'], RECALLED),
  ),
};
