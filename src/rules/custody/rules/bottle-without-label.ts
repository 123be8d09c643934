import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { aboutReceipt, type CustodyRule, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';
import type { Unlabelled } from '../unlabelled.ts';

const { labelsStandWater } = CUSTODY_RULES;
const SHOWN = 3;

function told({ item, candidates }: Unlabelled): string {
  const possible = candidates.filter(({ against }) => against.length === 0);
  const shown = possible.slice(0, SHOWN).map(({ packed, reasons }) => {
    const why = reasons.length > 0 ? ` (${reasons.join(', ')})` : '';
    return `${packed.container.fields.label}${why}`;
  });
  if (shown.length === 0) return `"${item.label}" fits no container that is expected`;
  const more = possible.length > SHOWN ? ` or ${possible.length - SHOWN} more` : '';
  return `"${item.label}" may be ${shown.join(' or ')}${more}`;
}

export const bottleWithoutLabel: CustodyRule = {
  code: 'bottle-without-label',
  title: 'A bottle came without a label that can be read',
  severity: 'caution',
  addressee: 'office',
  source: labelsStandWater.source,
  verified: labelsStandWater.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const { unlabelled } = receiptJudged(receipt, facts);
      if (unlabelled.length === 0) return [];
      const sentence = `Without a label: ${unlabelled.map(told).join('; ')}. A person decides by what the crew remembers and the laboratory sees, and records it; a bottle that cannot be told is a sample lost.`;
      return aboutReceipt(
        receipt,
        sentence,
        unlabelled.map(({ item }) => shows(receipt.id, 'items', item.label)),
      );
    });
  },
  vectors: [
    {
      name: 'the only one that is missing',
      given: {
        bottles: { a: {}, b: {} },
        receipt: {
          items: [
            { label: 'b', condition: 'missing' },
            { label: 'a bottle, 250 mL', condition: 'no-label' },
          ],
        },
      },
      expect: '"a bottle, 250 mL" may be b (expected and not received, 250 mL, bottle).',
    },
    {
      name: 'told apart by its size',
      given: {
        bottles: {
          v: { more: { type: 'vial', volumeMl: '40' } },
          l: { group: 'semivolatiles', more: { volumeMl: '1000', colour: 'amber' } },
        },
        receipt: { items: [{ label: 'amber 1 L', condition: 'no-label' }] },
      },
      expect: 'may be l (1000 mL, amber).',
    },
    {
      name: 'told apart by its acid',
      given: {
        bottles: {
          m: { group: 'metals-total', more: { preservatives: ['nitric-acid'] } },
          n: { group: 'nitrate', more: { preservatives: [] } },
        },
        receipt: { items: [{ label: 'plastic', condition: 'no-label', ph: '1.5' }] },
      },
      expect: 'may be m (pH 1.5).',
    },
    {
      name: 'fits none',
      given: {
        bottles: { v: { more: { type: 'vial', volumeMl: '40' } } },
        receipt: { items: [{ label: '1 L bottle', condition: 'no-label' }] },
      },
      expect: 'fits no container that is expected',
    },
    {
      name: 'every label was read',
      given: { bottles: { a: {} }, receipt: { items: [{ label: 'a', condition: 'ok' }] } },
      expect: null,
    },
  ],
};
