import { RECEIPT_RULES } from '../../../catalog/analytes/receipt-rules.ts';
import { listText } from '../../flags/list-text.ts';
import { aboutReceipt, type CustodyRule, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';

const { countsReconciled } = RECEIPT_RULES;

export const containerNotPackedHere: CustodyRule = {
  code: 'container-not-packed-here',
  title: 'A container came in another cooler than it was packed in, or was not expected',
  severity: 'question',
  addressee: 'office',
  source: countsReconciled.source,
  verified: countsReconciled.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const { extra } = receiptJudged(receipt, facts);
      if (extra.length === 0) return [];
      // where it was packed may be corrected without a word here, so whoever asks is told
      const labels = listText(extra.map(({ label }) => label));
      const sentence = `It came and is not on the custody record of this cooler: ${labels}. Say in which cooler it was packed, or whose it is, and correct the record of the container.`;
      return aboutReceipt(
        receipt,
        sentence,
        extra.map(({ label }) => shows(receipt.id, 'items', label)),
      );
    });
  },
  vectors: [
    {
      name: 'of another cooler',
      given: { bottles: { a: {} }, elsewhere: ['z'], receipt: { items: [{ label: 'z', condition: 'extra' }] } },
      expect: 'not on the custody record of this cooler: z.',
    },
    {
      name: 'told as in good order',
      given: { bottles: { a: {} }, elsewhere: ['z'], receipt: { items: [{ label: 'z', condition: 'ok' }] } },
      expect: 'not on the custody record of this cooler: z.',
    },
    {
      name: 'of nobody',
      given: { bottles: { a: {} }, receipt: { items: [{ label: 'q', condition: 'extra' }] } },
      expect: 'this cooler: q.',
    },
    {
      name: 'its own',
      given: { bottles: { a: {} }, receipt: { items: [{ label: 'a', condition: 'ok' }] } },
      expect: null,
    },
    {
      name: 'another one that is missing',
      given: { bottles: { a: {} }, elsewhere: ['z'], receipt: { items: [{ label: 'z', condition: 'missing' }] } },
      expect: null,
    },
  ],
};
