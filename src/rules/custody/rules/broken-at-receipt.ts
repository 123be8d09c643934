import { RECEIPT_RULES } from '../../../catalog/analytes/receipt-rules.ts';
import { listText } from '../../flags/list-text.ts';
import { aboutReceipt, type CustodyRule, labelEvidence, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';

const { conditionRecorded } = RECEIPT_RULES;

export const brokenAtReceipt: CustodyRule = {
  code: 'broken-at-receipt',
  title: 'A container came broken or leaking',
  severity: 'caution',
  addressee: 'office',
  source: conditionRecorded.source,
  verified: conditionRecorded.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const its = receiptJudged(receipt, facts).items.filter(({ item }) => /^(?:broken|leaking)$/.test(item.condition));
      if (its.length === 0) return [];
      const told = its.map(({ packed, item }) => `${packed.container.fields.label} (${item.condition})`);
      const sentence = `Came broken or leaking: ${listText(told)}. Ask whether enough is left, what leaked onto the others, and whether the well can be sampled again while the crew is there.`;
      return aboutReceipt(receipt, sentence, [
        ...its.map(({ item }) => shows(receipt.id, 'items', `${item.label} ${item.condition}`)),
        ...labelEvidence(its.map(({ packed }) => packed)),
      ]);
    });
  },
  vectors: [
    {
      name: 'broken',
      given: { bottles: { a: {} }, receipt: { items: [{ label: 'a', condition: 'broken' }] } },
      expect: 'a (broken)',
    },
    {
      name: 'leaking',
      given: { bottles: { a: {} }, receipt: { items: [{ label: 'a', condition: 'leaking' }] } },
      expect: 'a (leaking)',
    },
    {
      name: 'whole',
      given: { bottles: { a: {} }, receipt: { items: [{ label: 'a', condition: 'ok' }] } },
      expect: null,
    },
  ],
};
