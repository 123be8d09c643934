import { PUBLICATIONS } from '../../../catalog/analytes/publications.ts';
import { aboutReceipt, type CustodyRule, labelEvidence, labelsText, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';

export const headspaceAtReceipt: CustodyRule = {
  code: 'headspace-at-receipt',
  title: 'A vial came with air in it that must have none',
  severity: 'caution',
  addressee: 'office',
  source: PUBLICATIONS.fieldManual561.source,
  verified: true,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const its = receiptJudged(receipt, facts)
        .items.filter(({ item, packed }) => {
          return item.condition === 'headspace' && packed.groups.some(({ filling }) => filling.headspace === 'none');
        })
        .map(({ packed }) => packed);
      if (its.length === 0) return [];
      const sentence = `Air in ${labelsText(its)}: what is volatile may have gone into it. Have another vial of the sample analysed where there is one, and the air noted with the result.`;
      return aboutReceipt(receipt, sentence, [shows(receipt.id, 'items', 'headspace'), ...labelEvidence(its)]);
    });
  },
  vectors: [
    {
      name: 'volatiles',
      given: { bottles: { v: {} }, receipt: { items: [{ label: 'v', condition: 'headspace' }] } },
      expect: 'Air in v',
    },
    {
      name: 'metals',
      given: {
        bottles: { m: { group: 'metals-total' } },
        receipt: { items: [{ label: 'm', condition: 'headspace' }] },
      },
      expect: null,
    },
    {
      name: 'none',
      given: { bottles: { v: {} }, receipt: { items: [{ label: 'v', condition: 'ok' }] } },
      expect: null,
    },
  ],
};
