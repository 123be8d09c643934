import { describe, expect, it } from 'vitest';
import type { CheckLimit, CheckTolerance } from '../../../src/catalog/calibration/check-limit-set.ts';
import { CHECK_LIMIT_SETS, type CheckLimitSetId } from '../../../src/catalog/calibration/check-limit-sets.ts';
import { DRIFT_LIMITS, ORP_SOLUTION_WITHIN_C } from '../../../src/catalog/calibration/drift-limits.ts';
import { PH_SLOPE_LIMITS } from '../../../src/catalog/calibration/ph-slope-limits.ts';

function tell(tolerance: CheckTolerance): string {
  if (tolerance.rule === 'percent') return `${tolerance.within.value} %`;
  if (tolerance.rule === 'greater-of') return `${tolerance.percent.value} % or ${tolerance.absolute.value}`;
  if (tolerance.rule === 'absolute')
    return [tolerance.stricter?.figure.value, tolerance.within.value].filter(Boolean).join(' to ');
  return `${tolerance.least?.value ?? ''}..${tolerance.most.value}${tolerance.mostIs === 'out' ? ' not' : ''}`;
}

function range({ from, to, above }: CheckLimit): string {
  if (above) return `> ${above.value}: `;
  return from || to ? `${from?.value ?? ''}-${to?.value ?? ''}: ` : '';
}

/** All limits of a set for a parameter in one line. */
function line(id: CheckLimitSetId, parameter: CheckLimit['parameter']): string {
  const limits = CHECK_LIMIT_SETS[id].limits.filter((limit) => limit.parameter === parameter);
  return limits.map((limit) => range(limit) + tell(limit.tolerance)).join('; ');
}

describe('limits of calibration checks, as recalled of each document', () => {
  // US EPA Region 1, EQASOP-FieldCalibrat, and Florida DEP FT 1000 (high; its ORP low); US Geological Survey, National
  // Field Manual A6 (medium); US EPA Region 4, field measurement (low): all from memory.
  it.each([
    ['ph', '0.3', '0.2', '0.05 to 0.1', '0.1 to 0.2'],
    ['specific-conductance', '5 % or 10', '5 %', '-100: 5 %; > 100: 3 %', '10 %'],
    ['dissolved-oxygen', '0.5', '0.3', '0.2', '0.2 to 0.3'],
    ['zero-oxygen', '0..0.5 not', '', '..0.2', ''],
    ['orp', '10', '10', '5', '10'],
    ['turbidity', '5 %', '0.1-10: 10 %; 11-40: 8 %; 41-100: 6.5 %; > 100: 5 %', '5 % or 0.5', '10 %'],
    ['temperature', '0.2 to 0.5', '0.5', '0.2', '0.5'],
  ] as const)('of %s: %s, %s, %s and %s', (parameter, ...expected) => {
    const ids = [
      'epa-region-1-field-calibration',
      'florida-field-testing',
      'usgs-field-manual',
      'epa-region-4-field-measurement',
    ] as const;
    expect(ids.map((id) => line(id, parameter))).toEqual(expected);
  });

  it('of drift: 0.10 pH (county file, doc 928498, page 94) and 1 unit of turbidity (doc 928332, page 70)', () => {
    expect(DRIFT_LIMITS.map(({ parameter, most, source }) => [parameter, most.value, source])).toEqual([
      ['ph', '0.10', 'county file, doc 928498, page 94'],
      ['turbidity', '1', 'county file, doc 928332, page 70'],
    ]);
  });

  it('of the ORP solution: within 10 °C of the groundwater (county file, doc 919545, page 235)', () => {
    expect([ORP_SOLUTION_WITHIN_C.most.value, ORP_SOLUTION_WITHIN_C.source]).toEqual([
      '10',
      'county file, doc 919545, page 235',
    ]);
  });

  it('of the slope: 95 to 105 % (USGS, from memory), and one protocol rejects less than 85 % (doc 578983, page 47)', () => {
    expect(PH_SLOPE_LIMITS.map(({ leastPercent, mostPercent }) => [leastPercent.value, mostPercent?.value])).toEqual([
      ['95', '105'],
      ['85', undefined],
    ]);
    expect(PH_SLOPE_LIMITS[1]?.source).toContain('doc 578983, page 47');
  });
});
