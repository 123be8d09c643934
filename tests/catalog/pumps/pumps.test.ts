import { describe, expect, it } from 'vitest';
import { PRACTICAL_SUCTION_LIFT } from '../../../src/catalog/pumps/practical-suction-lift.ts';
import { PUMP_KIND_LIST } from '../../../src/catalog/pumps/pump-kinds.ts';
import { SET_UP_RULES } from '../../../src/catalog/pumps/set-up-rules.ts';
import { standardPressureMmHg } from '../../../src/science/oxygen/standard-atmosphere.ts';
import { convertUnit } from '../../../src/science/units/convert-unit.ts';
import { asNumber } from '../../../src/science/units/fraction.ts';

const FEET_A_METRE = 0.3048;

function standardPsi(altitudeFt: number): number {
  const converted = convertUnit(Number(standardPressureMmHg(altitudeFt * FEET_A_METRE)).toFixed(6), 'mm[Hg]', '[psi]');
  if ('refused' in converted) throw new Error(converted.refused);
  return asNumber(converted.exact);
}

describe('pumps as their sources tell of them', () => {
  // engineeringtoolbox.com, page 1343.
  it('has the eight printed lines of practical suction lift', () => {
    const lines = PRACTICAL_SUCTION_LIFT.lines.map(({ altitudeFt, liftFt }) => `${altitudeFt} ${liftFt}`);
    expect(lines.join(', ')).toBe('0 22, 1320 21, 2640 20, 3960 18, 5280 17, 6600 16, 7920 15, 10560 14');
  });

  it('TRAP: what that page calls "psig" (14.71 at sea level, 10.88 at 7,920 ft) is the pressure of the air itself', () => {
    // A gauge that stands in the air shows 0; only absolute pressures come near those figures (ISO 2533, computed).
    expect(standardPsi(0)).toBeCloseTo(14.696, 3);
    expect(Math.abs(standardPsi(0) - 14.71)).toBeLessThan(0.02);
    expect(Math.abs(standardPsi(7_920) - 10.88)).toBeLessThan(0.15);
  });

  // FRTR, section 4.3.1; Hawaii Department of Health, Technical Guidance Manual, Table 6-2.
  it('a bladder pump asks for 1.5 in and is excellent for volatiles, a peristaltic one is poor', () => {
    const told = PUMP_KIND_LIST.map(({ name, forVolatiles, smallestCasing }) => [
      name,
      forVolatiles.rating,
      smallestCasing?.insideDiameterIn,
    ]);
    expect(told).toEqual([
      ['bladder-pump', 'excellent', '1.5'],
      ['submersible-pump', 'excellent', undefined],
      ['peristaltic-pump', 'poor', undefined],
    ]);
  });

  // Common practice, no source; about 5 ft of submergence from memory.
  it('has the figures of practice: 27 ft, 10 psi, 10 and 5 s, 200 mL/min, 5 ft, and none of them as read', () => {
    const { suctionBelowFt, allowancePsi, firstRefillS, firstDischargeS, firstFlowMlPerMin, slowRefillBelowFt } =
      SET_UP_RULES;
    const figures = [suctionBelowFt, allowancePsi, firstRefillS, firstDischargeS, firstFlowMlPerMin, slowRefillBelowFt];
    expect(figures.map(({ value }) => value)).toEqual(['27', '10', '10', '5', '200', '5']);
    for (const { source, verified } of figures) {
      expect(verified).toBe(false);
      expect(source).toMatch(/common practice, no source|from memory/);
    }
  });
});
