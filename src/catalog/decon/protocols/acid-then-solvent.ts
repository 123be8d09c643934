import { seen } from '../../figures.ts';
import type { DeconProtocol } from '../decon-protocol.ts';
import { dry, inOrder, wet } from './step-parts.ts';

const MANUAL =
  'US Geological Survey, National Field Manual, TWRI book 9, chapter A3, Sep 1998, figure 3-1, read in a copy';
const SUPPLIES = 'US Geological Survey, Open-File Report 00-213, appendix E';
const READ = { source: MANUAL, verified: true };
const ORDER = { source: `${MANUAL} for its first two steps; this one from memory`, verified: false };

/** The figure was seen down to its second step in each of its three columns; what follows is from memory. */
export const acidThenSolvent: DeconProtocol = {
  id: 'acid-then-solvent',
  title: 'Organics and inorganics: detergent, tap water, acid, deionized water, solvent, water free of organics',
  document: 'US Geological Survey, National Field Manual, chapter A3, Cleaning of Equipment for Water Sampling',
  edition: 'Sep 1998',
  dated: '1998-09',
  source: MANUAL,
  verified: false,
  against: ['organics', 'inorganics'],
  gear: ['downhole-pump', 'bladder-pump', 'hand-gear'],
  wrap: 'foil-and-bag',
  note: 'The solvent comes after the acid. Keep acid off gear that is used for organics alone',
  steps: inOrder(
    wet('detergent-wash', 'Wash with a detergent without phosphate.', ['detergent-solution'], READ),
    wet('tap-rinse', 'Rinse with tap water.', ['potable-water'], READ),
    wet(
      'acid-rinse',
      'Rinse with dilute acid, and let what comes off stand over marble chips until it is neutral.',
      ['hydrochloric-acid'],
      ORDER,
      { strength: { figure: seen('5', SUPPLIES), unit: '% by volume' } },
    ),
    wet('deionized-rinse', 'Rinse with deionized water.', ['deionized-water'], ORDER),
    wet('solvent-rinse', 'Rinse with methanol of pesticide grade.', ['methanol'], ORDER),
    wet('final-rinse', 'Rinse with water free of organics.', ['organic-free-water'], ORDER),
    dry('dry', 'Let it dry where there is no dust.', ORDER),
    dry('wrap-and-label', 'Wrap it and label it with how it was cleaned and the date.', ORDER, {
      when: 'it is not used again at once',
    }),
  ),
};
