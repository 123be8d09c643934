import { RECEIPT_RULES } from '../../../catalog/analytes/receipt-rules.ts';
import { aboutReceipt, type CustodyRule, labelsText, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';

const { warmOnSameDay } = RECEIPT_RULES;

export const receivedWarmSameDay: CustodyRule = {
  code: 'received-warm-same-day',
  title: 'Containers came warm on the day of their collection, with cooling begun',
  severity: 'note',
  addressee: 'office',
  source: warmOnSameDay.source,
  verified: warmOnSameDay.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const warm = receiptJudged(receipt, facts).cold.filter((one) => one.judgement === 'warm-same-day');
      const [first] = warm;
      if (!first) return [];
      const labels = labelsText(warm.map((one) => one.packed));
      const sentence = `Received at ${first.readingC} °C on the day of collection, with ice: ${labels}. That is acceptable where cooling had begun; the number stands on record. Nothing is to be done.`;
      return aboutReceipt(receipt, sentence, [shows(receipt.id, 'temperatureC', first.readingC ?? '')]);
    });
  },
  vectors: [
    {
      name: 'in the afternoon',
      given: { bottles: { a: {} }, receipt: { received: '15:00', temperatureC: '11', ice: true } },
      expect: 'Received at 11 °C on the day of collection',
    },
    {
      name: 'ice as packed, nothing said at receipt',
      given: { cooler: { ice: '2 bags' }, bottles: { a: {} }, receipt: { received: '15:00', temperatureC: '11' } },
      expect: '11 °C',
    },
    { name: 'the day after', given: { bottles: { a: {} }, receipt: { temperatureC: '11', ice: true } }, expect: null },
    {
      name: 'cold',
      given: { bottles: { a: {} }, receipt: { received: '15:00', temperatureC: '5', ice: true } },
      expect: null,
    },
  ],
};
