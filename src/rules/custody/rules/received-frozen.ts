import { RECEIPT_RULES } from '../../../catalog/analytes/receipt-rules.ts';
import { aboutReceipt, type CustodyRule, labelEvidence, labelsText, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';

const { notFrozen } = RECEIPT_RULES;

export const receivedFrozen: CustodyRule = {
  code: 'received-frozen',
  title: 'Containers came frozen, or below zero',
  severity: 'caution',
  addressee: 'office',
  source: notFrozen.source,
  verified: notFrozen.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const { cold, items } = receiptJudged(receipt, facts);
      const below = cold.filter((one) => one.judgement === 'below-zero');
      const frozen = items
        .filter(
          ({ item, packed }) => item.condition === 'frozen' && !packed.groups.every(({ cooling }) => cooling.mayFreeze),
        )
        .map((one) => one.packed);
      const its = [...new Set([...below.map((one) => one.packed), ...frozen])];
      if (its.length === 0) return [];
      const reading = below[0] ? `${below[0].readingC} °C, below zero` : 'frozen';
      const sentence = `Received ${reading}: ${labelsText(its)}. Unless data show that freezing does no harm, their results are in question; look for broken glass too. Decide with the laboratory.`;
      const evidence = [
        ...below.slice(0, 1).map((one) => shows(receipt.id, 'temperatureC', one.readingC ?? '')),
        ...(frozen.length > 0 ? [shows(receipt.id, 'items', 'frozen')] : []),
      ];
      return aboutReceipt(receipt, sentence, [...evidence, ...labelEvidence(its)]);
    });
  },
  vectors: [
    {
      name: '-0.2',
      given: { bottles: { a: {} }, receipt: { temperatureC: '-0.2' } },
      expect: '-0.2 °C, below zero: a',
    },
    {
      name: 'told of one bottle',
      given: {
        bottles: { a: {}, b: {} },
        receipt: { temperatureC: '1', items: [{ label: 'b', condition: 'frozen' }] },
      },
      expect: 'Received frozen: b',
    },
    { name: 'zero', given: { bottles: { a: {} }, receipt: { temperatureC: '0.0' } }, expect: null },
    {
      name: 'what may be frozen',
      given: { bottles: { p: { group: 'pfas-1633' } }, receipt: { temperatureC: '-20' } },
      expect: null,
    },
  ],
};
