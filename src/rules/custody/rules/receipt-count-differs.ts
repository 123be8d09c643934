import { RECEIPT_RULES } from '../../../catalog/analytes/receipt-rules.ts';
import { aboutReceipt, type CustodyRule, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';

const { countsReconciled } = RECEIPT_RULES;

export const receiptCountDiffers: CustodyRule = {
  code: 'receipt-count-differs',
  title: 'The laboratory counted another number of containers than were packed',
  severity: 'caution',
  addressee: 'office',
  source: countsReconciled.source,
  verified: countsReconciled.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const { counted, expected, missing, saidMissing, extra } = receiptJudged(receipt, facts);
      // what another go read was not to be counted in this one
      const elsewhere = saidMissing.length - missing.length;
      if (counted === null || counted === expected - elsewhere) return [];
      const named =
        missing.length + extra.length > 0
          ? ` It names ${missing.length} as missing and ${extra.length} as not expected.`
          : '';
      const sentence = `The laboratory counted ${counted} containers; ${expected} are packed in this cooler.${named} Count against the custody record, and say which they are.`;
      return aboutReceipt(receipt, sentence, [shows(receipt.id, 'containersCounted', `${counted} of ${expected}`)]);
    });
  },
  vectors: [
    {
      name: 'one less',
      given: { bottles: { a: {}, b: {} }, receipt: { containersCounted: 1 } },
      expect: 'counted 1 containers; 2 are packed',
    },
    {
      name: 'one more',
      given: { bottles: { a: {} }, receipt: { containersCounted: 2, items: [{ label: 'x', condition: 'extra' }] } },
      expect: 'names 0 as missing and 1 as not expected',
    },
    { name: 'the same', given: { bottles: { a: {}, b: {} }, receipt: { containersCounted: 2 } }, expect: null },
    {
      name: 'a dropped one is none',
      given: { bottles: { a: {}, b: { more: { standing: 'discarded' } } }, receipt: { containersCounted: 1 } },
      expect: null,
    },
    { name: 'not counted', given: { bottles: { a: {} }, receipt: {} }, expect: null },
  ],
};
