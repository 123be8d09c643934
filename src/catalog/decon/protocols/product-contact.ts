import type { DeconProtocol } from '../decon-protocol.ts';
import { COMMON_PRACTICE, dry, inOrder, wet } from './step-parts.ts';

const SOURCE = 'plan applying the rule, county file, doc 555123, page 60';
const READ = { source: SOURCE, verified: true };
const FUMES =
  'Product and its vapour may burn or explode: no compressor, battery or unrated meter near, and gloves that stand it. The site safety plan, local codes and licensed practice decide.';

/** The plan names no solvent: which one takes off this product is for the site's plan. */
export const productContact: DeconProtocol = {
  id: 'product-contact',
  title: 'After product: set apart, solvent for what is seen, detergent, new tubing and lines',
  document: 'A sampling plan in a California county file',
  edition: 'as filed',
  dated: 'not known',
  source: SOURCE,
  verified: false,
  against: ['product', 'organics'],
  gear: ['downhole-pump', 'bladder-pump', 'tape-or-probe', 'hand-gear'],
  wrap: 'bag',
  note: 'Treat the gear as suspect until a blank through it passes',
  steps: inOrder(
    dry('set-apart', 'Set it apart from clean gear and mark it as suspect.', READ, { caution: FUMES }),
    wet(
      'solvent-for-deposits',
      'Take off what is seen with the solvent that the plan of the site names.',
      ['isopropanol', 'methanol', 'acetone'],
      READ,
      { when: 'deposits or a film are seen' },
    ),
    wet('detergent-wash', 'Wash with a detergent without phosphate.', ['detergent-solution'], READ),
    wet('potable-rinse', 'Rinse with potable water until no detergent comes.', ['potable-water'], COMMON_PRACTICE),
    wet(
      'final-rinse',
      'Rinse with deionized or distilled water.',
      ['deionized-water', 'distilled-water'],
      COMMON_PRACTICE,
    ),
    dry('new-tubing', 'Replace the tubing.', READ, { change: 'tubing', onlyFor: ['downhole-pump', 'bladder-pump'] }),
    dry('new-bladder', 'Replace the bladder.', COMMON_PRACTICE, { change: 'bladder', onlyFor: ['bladder-pump'] }),
    dry('new-line', 'Replace the support line or cable.', READ, {
      change: 'support-line',
      onlyFor: ['downhole-pump', 'bladder-pump'],
    }),
    dry('bag', 'Put it into a clean plastic bag and label it.', COMMON_PRACTICE),
  ),
};
