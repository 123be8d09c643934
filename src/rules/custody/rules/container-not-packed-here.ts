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
      const told = extra.map(({ label }) => {
        const known = facts.elsewhere.find(({ fields }) => fields.label === label);
        if (!known) return `${label} (no container of this event has that label)`;
        return known.fields.cooler == null ? `${label} (packed in no cooler)` : `${label} (packed in another cooler)`;
      });
      const sentence = `It came and is not on the custody record of this cooler: ${listText(told)}. Say in which cooler it was, or whose it is, and correct the record of the container.`;
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
      expect: 'z (packed in another cooler)',
    },
    {
      name: 'told as in good order',
      given: { bottles: { a: {} }, elsewhere: ['z'], receipt: { items: [{ label: 'z', condition: 'ok' }] } },
      expect: 'z (packed in another cooler)',
    },
    {
      name: 'of nobody',
      given: { bottles: { a: {} }, receipt: { items: [{ label: 'q', condition: 'extra' }] } },
      expect: 'q (no container of this event has that label)',
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
