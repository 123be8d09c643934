import { RECEIPT_RULES } from '../../../catalog/analytes/receipt-rules.ts';
import type { JudgedCold } from '../cold.ts';
import { aboutReceipt, type CustodyRule, labelEvidence, labelsText, shows } from '../custody-rule.ts';
import { receiptJudged } from '../receipt-judged.ts';

const { perContainer, notRounded } = RECEIPT_RULES;

function judgedAs(cold: readonly JudgedCold[], judgement: JudgedCold['judgement']) {
  return cold.filter((one) => one.judgement === judgement).map((one) => one.packed);
}

function untouchedText(cold: readonly JudgedCold[]): string {
  const free = judgedAs(cold, 'no-limit');
  const unknown = [...judgedAs(cold, 'not-known'), ...judgedAs(cold, 'not-preserved')];
  return [
    free.length > 0 ? ` Untouched, since they need not be cool: ${labelsText(free)}.` : '',
    unknown.length > 0 ? ` Of ${labelsText(unknown)} no document says how cold they have to be.` : '',
  ].join('');
}

export const receivedTooWarm: CustodyRule = {
  code: 'received-too-warm',
  title: 'Containers came warmer than they may be',
  severity: 'caution',
  addressee: 'office',
  source: `${notRounded.source}; ${perContainer.source}`,
  verified: notRounded.verified && perContainer.verified,
  isStored: true,
  find(facts) {
    return facts.receipts.flatMap((receipt) => {
      const { cold } = receiptJudged(receipt, facts);
      const warm = cold.filter((one) => one.judgement === 'too-warm');
      const [first] = warm;
      if (!first) return [];
      const readings = [...new Set(warm.map(({ readingC, limit }) => `${readingC} °C, above ${limit?.atMostC} °C`))];
      const packed = warm.map((one) => one.packed);
      const sentence = `Received at ${readings.join(' and ')}: ${labelsText(packed)}.${untouchedText(cold)} Decide with the laboratory which of them are analysed, and record it as an open item.`;
      return aboutReceipt(receipt, sentence, [
        shows(receipt.id, 'temperatureC', first.readingC ?? ''),
        ...labelEvidence(packed),
      ]);
    });
  },
  vectors: [
    {
      name: 'volatiles and metals at 7',
      given: {
        bottles: { a: {}, m: { group: 'metals-total', more: { preservatives: ['nitric-acid'] } } },
        receipt: { temperatureC: '7' },
      },
      expect: '7 °C, above 6 °C: a. Untouched, since they need not be cool: m.',
    },
    {
      name: 'metals alone at 7',
      given: {
        bottles: { m: { group: 'metals-total', more: { preservatives: ['nitric-acid'] } } },
        receipt: { temperatureC: '7' },
      },
      expect: null,
    },
    {
      name: 'metals without acid',
      given: {
        bottles: { a: {}, m: { group: 'metals-total', more: { preservatives: [] } } },
        receipt: { temperatureC: '7' },
      },
      expect: 'Of m no document says how cold',
    },
    {
      name: 'nitrate at 6.1',
      given: { bottles: { n: { group: 'nitrate' } }, receipt: { temperatureC: '6.1' } },
      expect: '6.1 °C, above 6 °C: n',
    },
    {
      name: 'not rounded: 6.4',
      given: { bottles: { n: { group: 'nitrate' } }, receipt: { temperatureC: '6.4' } },
      expect: '6.4 °C',
    },
    {
      name: 'exactly 6',
      given: { bottles: { n: { group: 'nitrate' } }, receipt: { temperatureC: '6.0' } },
      expect: null,
    },
    {
      name: 'one bottle that was read by itself',
      given: {
        bottles: { a: {}, b: {} },
        receipt: { temperatureC: '4', items: [{ label: 'b', condition: 'warm', temperatureC: '9.5' }] },
      },
      expect: '9.5 °C, above 6 °C: b',
    },
    {
      name: 'on the same day with ice',
      given: { bottles: { a: {} }, receipt: { received: '15:00', temperatureC: '11', ice: true } },
      expect: null,
    },
    {
      name: 'on the same day without ice',
      given: { bottles: { a: {} }, receipt: { received: '15:00', temperatureC: '11', ice: false } },
      expect: '11 °C',
    },
    {
      name: 'a method that allows 10 at first',
      given: { bottles: { p: { group: 'pfas-533' } }, receipt: { temperatureC: '9' } },
      expect: null,
    },
    {
      name: 'a bottle that did not come',
      given: { bottles: { a: {} }, receipt: { temperatureC: '9', items: [{ label: 'a', condition: 'missing' }] } },
      expect: null,
    },
    {
      name: 'of a temperature blank nothing is said',
      given: { bottles: { t: { blank: 'temperature', group: 'none' } }, receipt: { temperatureC: '9' } },
      expect: null,
    },
    { name: 'no number', given: { bottles: { a: {} }, receipt: { ice: false } }, expect: null },
  ],
};
