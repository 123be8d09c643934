import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { listText } from '../../flags/list-text.ts';
import type { ReceiptRecord } from '../../samples/sample-records.ts';
import type { CoolerFacts } from '../cooler-facts.ts';
import { isWholeFrom } from '../custody-change.ts';
import { aboutReceipt, type CustodyRule, shows } from '../custody-rule.ts';
import { plainNumber } from '../other-coolers.ts';

const { tapeAcrossOpenings } = CUSTODY_RULES;

function differing({ seals }: CoolerFacts, { fields: { received, sealNumbers } }: ReceiptRecord) {
  const read = sealNumbers ?? [];
  const whole = seals.filter((seal) => isWholeFrom(seal, received, received));
  const own = whole.map(({ fields }) => fields.number);
  const notRead = own.filter((number) => !read.some((one) => plainNumber(one) === plainNumber(number)));
  const notOurs = read.filter((number) => !own.some((one) => plainNumber(one) === plainNumber(number)));
  return { notRead, notOurs, whole };
}

function find(facts: CoolerFacts) {
  return facts.receipts.flatMap((receipt) => {
    if (!receipt.fields.sealNumbers?.length) return [];
    const { notRead, notOurs, whole } = differing(facts, receipt);
    if (notRead.length === 0 && notOurs.length === 0) return [];
    const parts = [
      ...(notOurs.length > 0 ? [`the laboratory read ${listText(notOurs)}, which nobody recorded as applied`] : []),
      ...(notRead.length > 0 ? [`${listText(notRead)} was applied and is not among what it read`] : []),
    ];
    const evidence = [
      shows(receipt.id, 'sealNumbers', receipt.fields.sealNumbers.join(', ')),
      ...whole.map(({ id, fields }) => shows(id, 'number', fields.number)),
    ];
    const sentence = `The numbers of the seals differ: ${parts.join('; ')}. Compare with the custody record, and say who opened it where a seal is another one.`;
    return aboutReceipt(receipt, sentence, evidence);
  });
}

export const sealNumbersDiffer: CustodyRule = {
  code: 'seal-numbers-differ',
  title: 'The seals that the laboratory read are not those that were applied',
  severity: 'caution',
  addressee: 'office',
  source: tapeAcrossOpenings.source,
  verified: tapeAcrossOpenings.verified,
  isStored: true,
  find,
  vectors: [
    {
      name: 'another number',
      given: { seals: [['S-1', '16:00']], receipt: { sealNumbers: ['S-9'] } },
      expect: 'the laboratory read S-9',
    },
    {
      name: 'one of two was not read',
      given: {
        seals: [
          ['S-1', '16:00'],
          ['S-2', '16:00'],
        ],
        receipt: { sealNumbers: ['S-1'] },
      },
      expect: 'S-2 was applied and is not among what it read',
    },
    {
      name: 'with a space for a dash',
      given: { seals: [['S-1', '16:00']], receipt: { sealNumbers: ['s 1'] } },
      expect: null,
    },
    {
      name: 'broken and replaced on the way',
      given: {
        seals: [
          ['S-1', '16:00', '18:00'],
          ['S-2', '18:05'],
        ],
        receipt: { sealNumbers: ['S-2'] },
      },
      expect: null,
    },
    {
      name: 'broken by opening',
      given: { seals: [['S-1', '16:00', '+1 09:05']], receipt: { sealNumbers: ['S-1'] } },
      expect: null,
    },
    { name: 'numbers were not recorded', given: { seals: [['S-1', '16:00']], receipt: {} }, expect: null },
  ],
};
