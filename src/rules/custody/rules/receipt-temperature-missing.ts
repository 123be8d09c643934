import { RECEIPT_RULES } from '../../../catalog/analytes/receipt-rules.ts';
import { aboutReceipt, type CustodyRule, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';

const { temperatureRecorded } = RECEIPT_RULES;

export const receiptTemperatureMissing: CustodyRule = {
  code: 'receipt-temperature-missing',
  title: 'A receipt says nothing of the temperature',
  severity: 'question',
  addressee: 'office',
  source: temperatureRecorded.source,
  verified: temperatureRecorded.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      if (receiptJudged(receipt, facts).isTemperatureRecorded) return [];
      const ice = receipt.fields.ice ? 'There was ice, and the' : 'The';
      const sentence = `${ice} number is asked for all the same: the receipt is incomplete until it is recorded. No sample has failed by that. Ask the laboratory.`;
      return aboutReceipt(receipt, sentence, [shows(receipt.id, 'received', receipt.fields.received)]);
    });
  },
  vectors: [
    {
      name: 'ice, and no number',
      given: { bottles: { a: {} }, receipt: { ice: true } },
      expect: 'There was ice, and the number is asked for all the same',
    },
    { name: 'neither', given: { receipt: {} }, expect: 'The number is asked for' },
    { name: 'a number', given: { receipt: { temperatureC: '3.2' } }, expect: null },
    {
      name: 'of a container alone',
      given: { bottles: { a: {} }, receipt: { items: [{ label: 'a', condition: 'ok', temperatureC: '3' }] } },
      expect: null,
    },
  ],
};
