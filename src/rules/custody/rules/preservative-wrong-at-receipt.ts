import type { PhRule } from '../../../catalog/analytes/analyte-group.ts';
import { listText } from '../../flags/list-text.ts';
import { aboutReceipt, type CustodyRule, labelEvidence, shows } from '../custody-rule.ts';
import { type JudgedItem, receiptJudged } from '../receipt-judged.ts';

function ruleText({ below, above, from, to }: PhRule): string {
  if (below !== undefined) return `below ${below}`;
  if (above !== undefined) return `above ${above}`;
  return `${from} to ${to}`;
}

function told({ packed, item, wrongPh }: JudgedItem): string {
  const { label } = packed.container.fields;
  return wrongPh ? `${label} (pH ${item.ph}, asked is ${ruleText(wrongPh)})` : label;
}

export const preservativeWrongAtReceipt: CustodyRule = {
  code: 'preservative-wrong-at-receipt',
  title: 'A container came with another preservative or pH than its analysis asks for',
  severity: 'caution',
  addressee: 'office',
  source:
    'California EPA, guideline on ground water sampling, county file, doc 612081, page 30: the pH that a preservative gives is checked; which pH, by group: the documents of the catalog',
  verified: true,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const its = receiptJudged(receipt, facts).items.filter(
        ({ item, wrongPh }) => item.condition === 'wrong-preservative' || wrongPh !== null,
      );
      if (its.length === 0) return [];
      const sentence = `Not preserved as asked: ${listText(its.map(told))}. Without its preservative a shorter holding time may count. Ask the laboratory what it did, and look at the deadlines of these.`;
      return aboutReceipt(receipt, sentence, [
        ...its.map(({ item }) => shows(receipt.id, 'items', `${item.label} ${item.ph ?? item.condition}`)),
        ...labelEvidence(its.map(({ packed }) => packed)),
      ]);
    });
  },
  vectors: [
    {
      name: 'metals at pH 5',
      given: {
        bottles: { m: { group: 'metals-total' } },
        receipt: { items: [{ label: 'm', condition: 'ok', ph: '5' }] },
      },
      expect: 'm (pH 5, asked is below 2)',
    },
    {
      name: 'just at the limit',
      given: {
        bottles: { m: { group: 'metals-total' } },
        receipt: { items: [{ label: 'm', condition: 'ok', ph: '2.0' }] },
      },
      expect: 'pH 2.0',
    },
    {
      name: 'told without a number',
      given: {
        bottles: { m: { group: 'metals-total' } },
        receipt: { items: [{ label: 'm', condition: 'wrong-preservative' }] },
      },
      expect: 'Not preserved as asked: m.',
    },
    {
      name: 'cyanide at pH 9',
      given: { bottles: { c: { group: 'cyanide' } }, receipt: { items: [{ label: 'c', condition: 'ok', ph: '9' }] } },
      expect: 'asked is above 10',
    },
    {
      name: 'chromium in its buffer',
      given: {
        bottles: { c: { group: 'chromium-hexavalent' } },
        receipt: { items: [{ label: 'c', condition: 'ok', ph: '9.5' }] },
      },
      expect: null,
    },
    {
      name: 'metals at pH 1.5',
      given: {
        bottles: { m: { group: 'metals-total' } },
        receipt: { items: [{ label: 'm', condition: 'ok', ph: '1.5' }] },
      },
      expect: null,
    },
    {
      name: 'ordered without acid',
      given: {
        bottles: { m: { group: 'metals-total', more: { preservatives: [] } } },
        receipt: { items: [{ label: 'm', condition: 'ok', ph: '6.8' }] },
      },
      expect: null,
    },
    {
      name: 'no pH was read',
      given: { bottles: { m: { group: 'metals-total' } }, receipt: { items: [{ label: 'm', condition: 'ok' }] } },
      expect: null,
    },
  ],
};
