import { seen } from '../../figures.ts';
import type { DeconProtocol } from '../decon-protocol.ts';
import { dry, inOrder, wet } from './step-parts.ts';

const SOURCE = 'California EPA, Ground Water Sampling, 2.3.6, read in a copy: county file, doc 612081, page 26';
const READ = { source: SOURCE, verified: true };

/** It differs from EPA 1992 in its order: the acid comes before the tap water. */
export const inorganicsAcidBeforeTapWater: DeconProtocol = {
  id: 'inorganics-acid-before-tap-water',
  title: 'Inorganics: detergent, dilute acid, tap water, reagent water',
  document: 'California EPA, Department of Toxic Substances Control, Ground Water Sampling',
  edition: 'after SW-846 chapter 11, final draft of 1991',
  dated: '1995',
  source: SOURCE,
  verified: true,
  against: ['inorganics'],
  gear: ['downhole-pump', 'bladder-pump', 'hand-gear'],
  wrap: 'foil-and-bag',
  note: 'Hydrochloric rather than nitric acid on stainless steel, which nitric acid may oxidize',
  steps: inOrder(
    dry('take-apart', 'Take the gear apart.', READ),
    wet('detergent-wash', 'Wash with a detergent without phosphate.', ['detergent-solution'], READ),
    wet('acid-rinse', 'Rinse with dilute acid.', ['hydrochloric-acid', 'nitric-acid'], READ, {
      strength: { figure: seen('0.1'), unit: 'mol/L' },
    }),
    wet('tap-rinse', 'Rinse with tap water.', ['potable-water'], READ),
    wet('final-rinse', 'Rinse with reagent water.', ['reagent-water'], READ),
    dry('dry', 'Let it dry thoroughly where there is no dust.', READ),
    dry('wrap-and-label', 'Wrap it and label it with how it was cleaned and the date.', READ, {
      when: 'it is not used again at once',
    }),
  ),
};
