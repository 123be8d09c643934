import { describe, expect, it } from 'vitest';
import { LEVEL_RULES } from '../../../src/catalog/levels/level-rules.ts';
import { CASING_SIZES, casingSize } from '../../../src/catalog/well/casing-sizes.ts';
import { INTAKE_RULES } from '../../../src/catalog/well/intake-rules.ts';
import { RECOVERY_RULES } from '../../../src/catalog/well/recovery-rules.ts';
import { isPlainDecimal } from '../../../src/science/units/fraction.ts';

describe('casing sizes', () => {
  it('have two figures that were seen, and say of the others that they are from memory', () => {
    const verified = CASING_SIZES.filter((one) => one.insideDiameterIn.verified);
    expect(verified.map((one) => one.insideDiameterIn.value)).toEqual(['2.067', '4.026']);
    expect(
      CASING_SIZES.every((one) => one.insideDiameterIn.verified === (one.insideDiameterIn.status === 'seen')),
    ).toBe(true);
  });

  it('are pipes: the inside is smaller than the outside, and schedule 80 is thicker than 40', () => {
    for (const one of CASING_SIZES)
      expect(Number(one.insideDiameterIn.value)).toBeLessThan(Number(one.outsideDiameterIn.value));
    for (const thick of CASING_SIZES.filter((one) => one.schedule === '80')) {
      const thin = casingSize(thick.nominalIn, '40');
      expect(thin?.outsideDiameterIn.value).toBe(thick.outsideDiameterIn.value);
      expect(Number(thin?.insideDiameterIn.value)).toBeGreaterThan(Number(thick.insideDiameterIn.value));
    }
  });

  it('are found however the size is written, and only where there is one', () => {
    expect(casingSize('2.0', '40')?.insideDiameterIn.value).toBe('2.067');
    expect(casingSize('5', '40')).toBeUndefined();
  });

  it('are each listed once', () => {
    const keys = CASING_SIZES.map((one) => `${one.nominalIn} ${one.schedule}`);
    expect(new Set(keys).size).toBe(keys.length);
  });
});

describe('rules of intake, levels and recovery', () => {
  it('have decimals and sources, and are verified only where they were seen', () => {
    const figures = [
      ...Object.values(INTAKE_RULES),
      LEVEL_RULES.roundSpanH,
      ...LEVEL_RULES.repeatWithinFt,
      LEVEL_RULES.electricTapeBestBelowFt,
      LEVEL_RULES.waitAfterPurgingH,
      LEVEL_RULES.levelPrecisionFt,
    ];
    for (const { value, verified, status, source } of figures) {
      expect(isPlainDecimal(value)).toBe(true);
      expect(verified).toBe(status === 'seen');
      expect(source).toBeTruthy();
    }
    expect(INTAKE_RULES.bottomClearanceFt).toMatchObject({ value: '2', verified: false });
  });

  it('of recovery leave open of what the percentage is, and name a page', () => {
    expect(RECOVERY_RULES.map((rule) => rule.percent)).toEqual([null, '80', '80', '70', null]);
    for (const rule of RECOVERY_RULES) expect(rule.source).toMatch(/p\. \d|page \d/);
    expect(new Set(RECOVERY_RULES.map((rule) => rule.id)).size).toBe(RECOVERY_RULES.length);
  });
});
