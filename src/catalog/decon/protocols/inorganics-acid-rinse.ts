import { seen } from '../../figures.ts';
import type { DeconProtocol } from '../decon-protocol.ts';
import { dry, inOrder, wet } from './step-parts.ts';

const SOURCE = 'US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, p. 7-18, read in a copy';
const READ = { source: SOURCE, verified: true };

export const inorganicsAcidRinse: DeconProtocol = {
  id: 'inorganics-acid-rinse',
  title: 'Inorganics: detergent, tap water, dilute acid, reagent water',
  document: 'US EPA, RCRA Ground-Water Monitoring: Draft Technical Guidance',
  edition: 'Nov 1992',
  dated: '1992-11',
  source: SOURCE,
  verified: true,
  against: ['inorganics'],
  gear: ['downhole-pump', 'bladder-pump', 'hand-gear'],
  wrap: 'foil-and-bag',
  note: 'Hydrochloric rather than nitric acid on stainless steel, which nitric acid may oxidize',
  steps: inOrder(
    wet('detergent-wash', 'Wash with a detergent without phosphate.', ['detergent-solution'], READ),
    wet('tap-rinse', 'Rinse with tap water.', ['potable-water'], READ),
    wet('acid-rinse', 'Rinse with dilute acid.', ['hydrochloric-acid', 'nitric-acid'], READ, {
      strength: { figure: seen('0.1'), unit: 'N' },
    }),
    wet('final-rinse', 'Rinse with reagent water.', ['reagent-water'], READ),
    dry('dry', 'Let it dry thoroughly where there is no dust.', READ),
    dry('wrap-and-label', 'Wrap it and label it with how it was cleaned and the date.', READ, {
      when: 'it is not used again at once',
    }),
  ),
};
