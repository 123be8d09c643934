import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { aboutReceipt, type CustodyRule, shows } from '../custody-rule.ts';

const { tapeAcrossOpenings } = CUSTODY_RULES;

export const sealsBrokenAtReceipt: CustodyRule = {
  code: 'seals-broken-at-receipt',
  title: 'The seals of a cooler were not whole when it came',
  severity: 'caution',
  addressee: 'office',
  source: tapeAcrossOpenings.source,
  verified: tapeAcrossOpenings.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      if (receipt.fields.sealsIntact !== false) return [];
      const sentence =
        'The laboratory found its seals not whole: somebody may have opened it. Ask the carrier and whoever had it, compare what is in it with the custody record, and record what is decided.';
      return aboutReceipt(receipt, sentence, [shows(receipt.id, 'sealsIntact', 'false')]);
    });
  },
  vectors: [
    { name: 'not whole', given: { receipt: { sealsIntact: false } }, expect: 'found its seals not whole' },
    { name: 'whole', given: { receipt: { sealsIntact: true } }, expect: null },
    { name: 'not said', given: { receipt: {} }, expect: null },
  ],
};
