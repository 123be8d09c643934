import { RECEIPT_RULES } from '../../../catalog/analytes/receipt-rules.ts';
import type { CheckRecord } from '../../samples/sample-records.ts';
import { timeText } from '../clocks.ts';
import { isCollectedOn, type JudgedCold, judgeCold, needsCold } from '../cold.ts';
import type { CoolerFacts } from '../cooler-facts.ts';
import { aboutCooler, type CustodyRule, labelsText, shows } from '../custody-rule.ts';

interface Bad {
  readonly check: CheckRecord;
  readonly warm: readonly JudgedCold[];
  readonly frozen: readonly JudgedCold[];
  readonly hasNoIce: boolean;
}

function judged(check: CheckRecord, { packed, timeZone }: CoolerFacts): Bad {
  const { temperatureC = null, ice, observed } = check.fields;
  const { at } = observed;
  const cold = packed.map((one) =>
    judgeCold(one, { readingC: temperatureC, at, isSameDayOnIce: ice !== false && isCollectedOn(one, at, timeZone) }),
  );
  const of = (judgement: JudgedCold['judgement']) => cold.filter((one) => one.judgement === judgement);
  return { check, warm: of('too-warm'), frozen: of('below-zero'), hasNoIce: ice === false && packed.some(needsCold) };
}

function told({ check: { fields }, warm, frozen, hasNoIce }: Bad, timeZone: string | null): string {
  const parts = [
    ...(warm.length > 0
      ? [`${fields.temperatureC} °C, too warm for ${labelsText(warm.map((one) => one.packed))}`]
      : []),
    ...(frozen.length > 0 ? [`${fields.temperatureC} °C: what is in it may have frozen`] : []),
    ...(hasNoIce ? ['no ice was left'] : []),
  ];
  return `${timeText(fields.observed.at, timeZone)}: ${parts.join('; ')}.`;
}

export const coolerNotColdOnTheWay: CustodyRule = {
  code: 'cooler-not-cold-on-the-way',
  title: 'A cooler was too warm, too cold or without ice on its way',
  severity: 'caution',
  addressee: 'tonight',
  source: `${RECEIPT_RULES.notRounded.source}; ${RECEIPT_RULES.notFrozen.source}`,
  verified: false,
  isStored: true,
  find(facts) {
    const bad = facts.checks
      .map((check) => judged(check, facts))
      .filter(({ warm, frozen, hasNoIce }) => warm.length > 0 || frozen.length > 0 || hasNoIce);
    if (bad.length === 0) return [];
    const texts = bad.map((one) => told(one, facts.timeZone)).join(' ');
    const evidence = bad.map(({ check }) => {
      const { temperatureC, ice } = check.fields;
      return temperatureC != null ? shows(check.id, 'temperatureC', temperatureC) : shows(check.id, 'ice', String(ice));
    });
    return aboutCooler(
      facts,
      `A look at it found ${texts} Put ice above and below, and record what it reads then.`,
      evidence,
    );
  },
  vectors: [
    {
      name: 'warm the day after',
      given: { bottles: { a: {} }, checks: [['+1 07:00', { temperatureC: '6.4' }]] },
      expect: '6.4 °C, too warm for a',
    },
    {
      name: 'cooling began this morning',
      given: { bottles: { a: {} }, checks: [['12:00', { temperatureC: '11', ice: true }]] },
      expect: null,
    },
    { name: 'no ice', given: { bottles: { a: {} }, checks: [['12:00', { ice: false }]] }, expect: 'no ice was left' },
    {
      name: 'below zero',
      given: { bottles: { a: {} }, checks: [['12:00', { temperatureC: '-0.5' }]] },
      expect: 'may have frozen',
    },
    {
      name: 'metals at 12 degrees without ice',
      given: { bottles: { a: { group: 'metals-total' } }, checks: [['+1 07:00', { temperatureC: '12', ice: false }]] },
      expect: null,
    },
    {
      name: 'cold',
      given: { bottles: { a: {} }, checks: [['+1 07:00', { temperatureC: '6.0', ice: true }]] },
      expect: null,
    },
  ],
};
