import { describe, expect, it } from 'vitest';
import { ANALYTES_NOT_USABLE } from '../../../src/catalog/analytes/analytes-not-usable.ts';
import { CLOCK_RULES } from '../../../src/catalog/analytes/clock-rules.ts';
import { CUSTODY_RULES, PAPER_FIELDS } from '../../../src/catalog/analytes/custody-rules.ts';
import { FIELD_MEASUREMENTS } from '../../../src/catalog/analytes/field-measurements.ts';
import { LOW_LEVEL_RULE, QC_RULES, QC_TYPES, qcRule } from '../../../src/catalog/analytes/qc-rules.ts';
import { RECEIPT_RULES } from '../../../src/catalog/analytes/receipt-rules.ts';
import { figureOf, type WrittenRule } from '../../../src/catalog/analytes/rule-figure.ts';
import { SAMPLING_RULES } from '../../../src/catalog/analytes/sampling-rules.ts';
import { SHIPPING_RULES } from '../../../src/catalog/analytes/shipping-rules.ts';
import { TRANSPORT_LIMITS, transportLimit } from '../../../src/catalog/analytes/transport-limits.ts';
import { isRefusal } from '../../../src/science/refusal.ts';
import { handOverOrder } from '../../../src/science/samples/hand-over-order.ts';
import { qcCount } from '../../../src/science/samples/qc-count.ts';
import { relativePercentDifference } from '../../../src/science/samples/rpd.ts';
import { isWithinTransport } from '../../../src/science/samples/solution-percent.ts';

const RULES: readonly WrittenRule[] = [
  CLOCK_RULES,
  SAMPLING_RULES,
  CUSTODY_RULES,
  RECEIPT_RULES,
  SHIPPING_RULES,
].flatMap((rules) => Object.values(rules));

describe('a rule of samples', () => {
  it.each(RULES.map((rule) => [rule.id, rule] as const))(
    '%s: a sentence with its document, unverified where recalled',
    (_id, rule) => {
      expect(rule.wording).toMatch(/^["0-9A-Z].*\.$/s);
      expect([rule.source, rule.verified]).toEqual([rule.source, !/from memory|no source/.test(rule.source)]);
    },
  );

  // A figure that the sentence does not say would be shown to nobody.
  it.each(RULES.flatMap((rule) => (rule.figures ?? []).map((one) => [rule.id, one.of, one, rule] as const)))(
    '%s, %s: the sentence says the figure',
    (_id, of, one, rule) => {
      expect(figureOf(rule, of)).toBe(one.value);
      const said = one.value === '100' && one.unit === 'mL/min' ? '0.1 L/min' : one.value;
      const words: Readonly<Record<string, RegExp>> = {
        '2': /\b(?:2|two)\b/,
        '100': /\b(?:100(?!\d)|0\.1 L)/,
        '0': /frozen/,
      };
      expect(rule.wording).toMatch(words[one.value] ?? new RegExp(`(?<![\\d.])${said.replace('.', '\\.')}(?![\\d])`));
    },
  );

  it('has no figure of a name that it does not have', () => {
    expect(figureOf(CLOCK_RULES.twoClocks, 'extraction')).toBeUndefined();
  });
});

describe('what is measured at the well', () => {
  it.each([
    ['ph', true],
    ['dissolved-oxygen', false],
    ['temperature', false],
    ['residual-chlorine', true],
    ['sulfite', false],
  ])('%s within 15 min; read in the copy of 2014: %s', (id, verified) => {
    expect(FIELD_MEASUREMENTS.find((one) => one.id === id)).toMatchObject({ withinMinutes: 15, verified });
  });
});

describe('QC samples by frequency', () => {
  it.each([
    ['field-duplicate-one-in-10', 'samples', 10, true],
    ['field-duplicate-one-in-20', 'samples', 20, false],
    ['ms-msd-one-in-20', 'samples', 20, true],
    ['ms-msd-three-volumes', 'request', undefined, true],
    ['equipment-blank-each-day', 'unit-days', 1, true],
    ['equipment-blank-each-5-samples', 'samples', 5, false],
    ['equipment-blank-one-in-20', 'samples', 20, false],
    ['pre-use-blank-once', 'units', 1, true],
    ['field-blank-volatiles-each-day', 'days', 1, true],
    ['field-blank-pfas-each-site', 'sites', 1, true],
    ['trip-blank-volatiles-each-cooler', 'coolers', 1, true],
    ['trip-blank-pfas-each-cooler', 'coolers', 1, false],
    ['temperature-blank-each-cooler', 'coolers', 1, true],
    ['split-on-request', 'request', undefined, true],
  ])('%s: per %s, one for each %s, default %s', (id, basis, oneForEach, isDefault) => {
    const rule = qcRule(id);
    expect([rule?.basis, rule?.oneForEach, rule?.isDefault]).toEqual([basis, oneForEach, isDefault]);
    expect(rule?.verified).toBe(!/from memory|no source/.test(rule?.source ?? ''));
  });

  it('37 samples owe 4 duplicates and 2 matrix spikes by the defaults', () => {
    const count = (id: string) => qcCount(37, qcRule(id)?.oneForEach ?? 0);
    expect([count('field-duplicate-one-in-10'), count('ms-msd-one-in-20')]).toEqual([4, 2]);
  });

  it('every kind has a default, and duplicates pass at 30 %', () => {
    expect(QC_TYPES.filter((type) => !QC_RULES.some((rule) => rule.type === type && rule.isDefault))).toEqual([]);
    const limit = qcRule('field-duplicate-one-in-10')?.rpdAtMostPercent ?? '';
    const passes = ([a, b]: readonly [string, string]) => {
      const rpd = relativePercentDifference(a, b, limit);
      return !isRefusal(rpd) && rpd.within;
    };
    expect(
      (
        [
          ['10', '12'],
          ['10', '14'],
          ['100', '135'],
          ['100', '136'],
        ] as const
      ).map(passes),
    ).toEqual([true, false, true, false]);
    expect(LOW_LEVEL_RULE).toMatchObject({ lowBelowTimes: '5', lowWithinTimes: '1', verified: false });
  });
});

describe('acid and base in transport', () => {
  it.each([
    ['hydrochloric-acid', '0.04', true],
    ['nitric-acid', '0.15', true],
    ['sulfuric-acid', '0.35', false],
    ['sodium-hydroxide', '0.080', false],
  ] as const)('%s: %s %%, read in the interpretation of PHMSA: %s', (id, atMostPercent, verified) => {
    expect(transportLimit(id)).toMatchObject({ atMostPercent, verified });
  });

  // Doses that PHMSA was asked about, interpretation 99-0293, 21 Mar 2000.
  it.each([
    ['nitric-acid', 2, 15.8, 1_000],
    ['sodium-hydroxide', 5, 5, 240],
    ['nitric-acid', 2, 7.6, 250],
  ] as const)('%s, %d mL of %d M in %d mL is above', (id, solutionMl, molPerL, waterMl) => {
    const limit = transportLimit(id);
    if (!limit) throw new Error(`no limit of ${id}`);
    const dose = { solutionMl, molPerL, gramsPerMol: Number(limit.molarMass.gramsPerMol) };
    expect(isWithinTransport(dose, waterMl, limit.atMostPercent)).toBe(false);
  });

  it('the share and the pH of a limit fit together for the monoprotic acids, to 0.1 of pH', () => {
    for (const { id, atMostPercent, ph, molarMass } of TRANSPORT_LIMITS) {
      if (!('atLeast' in ph) || id === 'sulfuric-acid') continue;
      const molPerL = (Number(atMostPercent) * 10) / Number(molarMass.gramsPerMol);
      expect(Math.abs(-Math.log10(molPerL) - Number(ph.atLeast))).toBeLessThan(0.1);
    }
    expect(transportLimit('trizma')).toBeUndefined();
  });
});

describe('custody', () => {
  it('a record has what US EPA 1992, p. 7-27, lists, and a label what plans ask for', () => {
    const of = (source: RegExp) => PAPER_FIELDS.filter((field) => source.test(field.source)).map(({ id }) => id);
    expect(of(/p\. 7-27/)).toEqual([
      'sample-number',
      'collector',
      'collected',
      'matrix',
      'sampling-point',
      'containers',
      'analyses',
    ]);
    expect(PAPER_FIELDS.filter(({ on }) => on === 'label').map(({ wording }) => wording)).toEqual([
      'Sample number',
      'Site or project',
      'Date',
      'Time',
      'Initials of the sampler',
      'Preservative',
      'Analyses',
      'Kind of sample',
    ]);
  });

  it('received 7 minutes before it was given is a note, 35 minutes a question', () => {
    const differ = Number(figureOf(CUSTODY_RULES.clocksDiffer, 'clocks-differ-by'));
    const order = (received: string) =>
      handOverOrder(
        { relinquishedAt: '2026-05-04T10:05:00Z', receivedAt: `2026-05-04T${received}:00Z`, isCarrierLeg: false },
        differ,
      );
    expect([order('09:58'), order('09:30')]).toMatchObject([{ order: 'note' }, { order: 'question' }]);
  });
});

describe('what is no default', () => {
  it.each(ANALYTES_NOT_USABLE.map((one) => [one.id, one] as const))('%s says why', (_id, { because, source }) => {
    expect(because).toMatch(/\.$/);
    expect(source).not.toBe('');
  });
});
