import type { DeconProtocol } from '../decon-protocol.ts';
import { dry, inOrder, wet } from './step-parts.ts';

const SOURCE = 'California EPA, Ground Water Sampling, 2.3.6, read in a copy: county file, doc 612081, page 26';
const READ = { source: SOURCE, verified: true };

/** The matching list of EPA 1992 (p. 7-17) was not seen. */
export const organicsAcetoneRinse: DeconProtocol = {
  id: 'organics-acetone-rinse',
  title: 'Organics: detergent, tap water, acetone, water free of organics',
  document: 'California EPA, Department of Toxic Substances Control, Ground Water Sampling',
  edition: 'after SW-846 chapter 11, final draft of 1991',
  dated: '1995',
  source: SOURCE,
  verified: true,
  against: ['organics'],
  gear: ['downhole-pump', 'bladder-pump', 'hand-gear'],
  wrap: 'foil-and-bag',
  note: 'Where acetone is asked for in the samples, another solvent that is not, such as isopropanol',
  steps: inOrder(
    dry('take-apart', 'Take the gear apart.', READ),
    wet('detergent-wash', 'Wash with a detergent without phosphate.', ['detergent-solution'], READ),
    wet('tap-rinse', 'Rinse with tap water.', ['potable-water'], READ),
    wet('solvent-rinse', 'Rinse with solvent.', ['acetone', 'isopropanol'], READ),
    wet('final-rinse', 'Rinse with reagent water free of organics.', ['organic-free-water'], READ),
    dry('dry', 'Let it dry thoroughly where there is no dust.', READ),
    dry('wrap-and-label', 'Wrap it and label it with how it was cleaned and the date.', READ, {
      when: 'it is not used again at once',
    }),
  ),
};
