import { RECEIPT_RULES } from '../../../catalog/analytes/receipt-rules.ts';
import { aboutReceipt, type CustodyRule, labelEvidence, labelsText, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';

const { countsReconciled } = RECEIPT_RULES;

export const containerNotReceived: CustodyRule = {
  code: 'container-not-received',
  title: 'A container was packed and did not come',
  severity: 'caution',
  addressee: 'office',
  source: countsReconciled.source,
  verified: countsReconciled.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const { missing, unlabelled } = receiptJudged(receipt, facts);
      if (missing.length === 0) return [];
      const may = unlabelled.length > 0 ? ' A bottle without a label came, which may be one of them.' : '';
      const sentence = `Packed here, and not received: ${labelsText(missing)}.${may} Look into the other coolers and the truck, and ask the laboratory to look again.`;
      return aboutReceipt(receipt, sentence, [shows(receipt.id, 'items', 'missing'), ...labelEvidence(missing)]);
    });
  },
  vectors: [
    {
      name: 'one',
      given: { bottles: { a: {}, b: {} }, receipt: { items: [{ label: 'b', condition: 'missing' }] } },
      expect: 'Packed here, and not received: b.',
    },
    {
      name: 'and one without a label',
      given: {
        bottles: { a: {}, b: {} },
        receipt: {
          items: [
            { label: 'b', condition: 'missing' },
            { label: 'vial', condition: 'no-label' },
          ],
        },
      },
      expect: 'may be one of them',
    },
    {
      name: 'all came',
      given: { bottles: { a: {} }, receipt: { items: [{ label: 'a', condition: 'ok' }] } },
      expect: null,
    },
  ],
};
