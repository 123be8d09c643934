import { describe, expect, it } from 'vitest';
import { CUSTODY_FLAG_RULES, custodyFindings } from '../../../src/rules/custody/custody-findings.ts';
import { vectorBeside, vectorFacts } from '../../../src/rules/custody/vector-facts.ts';

describe.each(CUSTODY_FLAG_RULES)('$code', (rule) => {
  it.each(rule.vectors)('$name', ({ given, expect: expected }) => {
    const found = rule.find(vectorFacts(given), vectorBeside(given));
    if (expected === null) expect(found).toEqual([]);
    else expect(found.map(({ sentence }) => sentence).join('\n')).toContain(expected);
    for (const { evidence, sentence } of found) {
      expect(evidence.length).toBeGreaterThan(0);
      expect(sentence.length).toBeLessThanOrEqual(1_000);
    }
  });

  it('asks in a case of its own, is silent in another, and says where it comes from', () => {
    expect(rule.vectors.some((vector) => vector.expect !== null)).toBe(true);
    expect(rule.vectors.some((vector) => vector.expect === null)).toBe(true);
    expect(rule.source.length).toBeGreaterThan(10);
  });
});

describe('the rules about coolers', () => {
  it('have codes of their own', () => {
    const codes = CUSTODY_FLAG_RULES.map(({ code }) => code);
    expect(new Set(codes).size).toBe(codes.length);
  });

  it('name the cooler in every sentence, of a receipt as well', () => {
    const told = (number: string) => {
      const receipt = { items: [{ label: 'MW-1', condition: 'broken' }], remark: 'x' };
      const hands = [['in', '17:00', 'Ann Poe']] as const;
      const found = custodyFindings(vectorFacts({ cooler: { number }, bottles: { 'MW-1': {} }, hands, receipt }));
      expect(new Set(found.map(({ subjectKind }) => subjectKind))).toEqual(new Set(['cooler', 'sample-receipt']));
      return new Set(found.map(({ sentence }) => sentence.split(':')[0]));
    };
    expect(told('C-17')).toEqual(new Set(['Cooler C-17']));
    expect(told('Cooler 17')).toEqual(new Set(['Cooler 17']));
  });

  it('ask nothing of a cooler that went the way it should', () => {
    const facts = vectorFacts({
      cooler: {
        packed: '16:30',
        ice: '3 bags of water ice',
        laboratory: 'lab-a',
        carrier: 'Example Couriers',
        trackingNumber: '7001',
      },
      bottles: {
        'MW-1-VOC-1': { laboratory: 'lab-a' },
        'MW-1-MET-1': { group: 'metals-total', more: { preservatives: ['nitric-acid'] } },
        'TB-1': { blank: 'trip' },
        'TEMP-1': { blank: 'temperature', group: 'temperature' },
      },
      seals: [
        ['S-1', '16:40'],
        ['S-2', '16:40'],
      ],
      hands: [
        ['out', '17:00', 'Ann Poe', { to: 'Example Couriers' }],
        ['in', '+1 09:00', 'Cy Loe', { organization: 'Laboratory A' }],
      ],
      receipt: {
        received: '+1 09:05',
        temperatureC: '3.4',
        ice: true,
        sealsIntact: true,
        sealNumbers: ['S-1', 'S-2'],
        containersCounted: 4,
        items: [{ label: 'MW-1-MET-1', condition: 'ok', ph: '1.7' }],
      },
    });
    expect(custodyFindings(facts).map(({ rule, sentence }) => `${rule.code}: ${sentence}`)).toEqual([]);
  });
});
