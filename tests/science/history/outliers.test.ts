import fc from 'fast-check';
import jstat from 'jstat';
import { interquartileRange, median as libraryMedian, medianAbsoluteDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { dixonRatio } from '../../../src/science/history/dixon.ts';
import { median } from '../../../src/science/history/median.ts';
import { MODIFIED_Z_LIMIT, modifiedZ, robustCentre } from '../../../src/science/history/modified-z.ts';
import { QUARTILE_RULES, type QuartileRule, quartiles } from '../../../src/science/history/quartiles.ts';
import { rosnerOutliers, rosnerSteps } from '../../../src/science/history/rosner.ts';
import { beyondFences, tukeyFences } from '../../../src/science/history/tukey-fences.ts';
import { given, refusal } from './given.ts';
import { CARBON_TETRACHLORIDE, NAPHTHALENE } from './published-rows.ts';

const row = fc.array(fc.double({ min: -1e4, max: 1e4, noNaN: true }), { minLength: 1, maxLength: 30 });
const whole = fc.array(fc.integer({ min: -999, max: 999 }), { minLength: 3, maxLength: 30 });
const outside = (values: readonly number[], rule: QuartileRule) => {
  const fences = given(tukeyFences(values, rule, 1.5));
  return values.filter((value) => beyondFences(fences, value)).toSorted((a, b) => a - b);
};
const wild = (values: readonly number[]) => {
  const centre = given(robustCentre(values));
  return values.map((value) => [value, given(modifiedZ(centre, value))] as const);
};

describe('Tukey fences of US EPA, Unified Guidance 2009, Example 12-1 (carbon tetrachloride), by the named rule', () => {
  it.each([
    ['linear', 13.3, 106.3, 245.8, [275, 302, 350, 7066]],
    ['hazen', 12.9, 137.2, 323.65, [350, 7066]],
    ['median-unbiased', 12.767, 147.5, 349.6, [350, 7066]],
    ['weibull', 12.5, 168.1, 401.5, [7066]],
  ] as const)('%s: quartiles %f and %f, upper fence %f', (rule, lower, upper, fence, flagged) => {
    const fences = given(tukeyFences(CARBON_TETRACHLORIDE, rule, 1.5));
    expect(fences.rule).toBe(rule);
    expect(fences.lower).toBeCloseTo(lower, 3);
    expect(fences.upper).toBeCloseTo(upper, 3);
    expect(fences.upperFence).toBeCloseTo(fence, 3);
    expect(outside(CARBON_TETRACHLORIDE, rule)).toEqual(flagged);
  });

  it('Example 12-4 (naphthalene), linear: 2.57 and 5.96, fences -2.515 and 11.045', () => {
    const fences = given(tukeyFences(NAPHTHALENE, 'linear', 1.5));
    expect([fences.lower, fences.upper]).toEqual([2.57, 5.96]);
    expect(fences.lowerFence).toBeCloseTo(-2.515, 9);
    expect(fences.upperFence).toBeCloseTo(11.045, 9);
    expect(outside(NAPHTHALENE, 'linear')).toEqual([23.23, 35.45]);
  });

  it('what lies on a fence is not beyond it', () => {
    const fences = given(tukeyFences([1, 2, 3, 4, 5], 'linear', 1.5));
    expect([-1, 7, -1.01, 7.01].map((value) => beyondFences(fences, value))).toEqual([false, false, true, true]);
  });

  it('refuses no values and a widening that is none', () => {
    expect(refusal(tukeyFences([], 'linear', 1.5))).toContain('too few');
    expect(refusal(tukeyFences([1], 'linear', -1))).toContain('widening');
    expect(refusal(quartiles([1, Number.POSITIVE_INFINITY], 'hazen'))).toContain('Value 2');
  });
});

describe('quartiles', () => {
  /** Plotting positions (k - alpha) / (n + 1 - alpha - beta) with alpha = beta: Hyndman and Fan's types 7, 5, 6 and 8. */
  const ALPHA = { linear: 1, hazen: 0.5, weibull: 0, 'median-unbiased': 1 / 3 } as const;

  it('are those of a general-purpose library, rule by rule', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -999, max: 999 }), { minLength: 4, maxLength: 30 }), (values) => {
        for (const rule of QUARTILE_RULES) {
          const [lower, upper] = jstat.jStat.quantiles(values, [0.25, 0.75], ALPHA[rule], ALPHA[rule]);
          const own = given(quartiles(values, rule));
          expect(own.lower).toBeCloseTo(lower ?? Number.NaN, 8);
          expect(own.upper).toBeCloseTo(upper ?? Number.NaN, 8);
        }
      }),
    );
  });

  it('are by the linear rule what a library gives that does not name its rule', () => {
    const { lower, upper } = given(quartiles(CARBON_TETRACHLORIDE, 'linear'));
    expect(interquartileRange(CARBON_TETRACHLORIDE)).toBeCloseTo(upper - lower, 9);
  });

  it('follow a shift and a change of unit, and stay within the values', () => {
    fc.assert(
      fc.property(row, fc.constantFrom(...QUARTILE_RULES), (values, rule) => {
        const own = given(quartiles(values, rule));
        const changed = given(
          quartiles(
            values.map((value) => 3 * value + 5),
            rule,
          ),
        );
        expect(changed.lower).toBeCloseTo(3 * own.lower + 5, 6);
        expect(changed.upper).toBeCloseTo(3 * own.upper + 5, 6);
        expect(own.lower).toBeGreaterThanOrEqual(Math.min(...values));
        expect(own.upper).toBeLessThanOrEqual(Math.max(...values));
      }),
    );
  });
});

describe('modified z (Iglewicz & Hoaglin 1993)', () => {
  it('Example 12-1: median 49.75, MAD 36.85; 275, 302, 350 and 7066 beyond 3.5', () => {
    const centre = given(robustCentre(CARBON_TETRACHLORIDE));
    expect(centre.median).toBeCloseTo(49.75, 9);
    expect(centre.mad).toBeCloseTo(36.85, 9);
    const beyond = wild(CARBON_TETRACHLORIDE).filter(([, z]) => Math.abs(z) > MODIFIED_Z_LIMIT);
    expect(new Map(beyond.map(([value, z]) => [value, z.toFixed(2)]))).toEqual(
      new Map([
        [302, '4.62'],
        [7066, '128.42'],
        [350, '5.50'],
        [275, '4.12'],
      ]),
    );
  });

  it('Example 12-4: median 5.39, MAD 0.97; 23.23 at 12.41 and 35.45 at 20.90', () => {
    const centre = given(robustCentre(NAPHTHALENE));
    expect(centre.mad).toBeCloseTo(0.97, 9);
    expect(given(modifiedZ(centre, 23.23))).toBeCloseTo(12.41, 2);
    expect(given(modifiedZ(centre, 35.45))).toBeCloseTo(20.9, 2);
  });

  it('refuses where half of the values are alike, instead of calling all others infinitely far', () => {
    expect(refusal(modifiedZ(given(robustCentre([7, 7, 7, 8])), 8))).toContain('MAD is 0');
    expect(refusal(robustCentre([]))).toContain('too few');
    expect(median([])).toBeNaN();
  });

  it('takes median and MAD as a general-purpose library does, and does not see order, shift or unit', () => {
    fc.assert(
      fc.property(whole, fc.integer({ min: 1, max: 99 }), (values, unit) => {
        const centre = given(robustCentre(values));
        expect(centre.median).toBeCloseTo(libraryMedian(values), 8);
        expect(centre.mad).toBeCloseTo(medianAbsoluteDeviation(values), 8);
        expect(robustCentre(values.toReversed())).toEqual(centre);
        fc.pre(centre.mad > 0);
        const other = given(robustCentre(values.map((value) => unit * value + unit)));
        expect(given(modifiedZ(other, unit * 5 + unit))).toBeCloseTo(given(modifiedZ(centre, 5)), 4);
      }),
    );
  });
});

describe("Dixon's ratio", () => {
  it('Example 12-3, on logarithms: 0.4509385', () => {
    expect(given(dixonRatio(CARBON_TETRACHLORIDE.map(Math.log), 'highest'))).toBeCloseTo(0.4509385, 7);
  });

  it('Example 12-3: p 0.0493, by drawing 60,000 normal rows of 20', () => {
    let state = 20_090_301;
    const draw = () => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return (state + 0.5) / 2 ** 32;
    };
    const normal = () => Math.sqrt(-2 * Math.log(draw())) * Math.cos(2 * Math.PI * draw());
    let larger = 0;
    for (let time = 0; time < 60_000; time += 1)
      if (given(dixonRatio(Array.from({ length: 20 }, normal), 'highest')) > 0.4509385) larger += 1;
    expect(larger / 60_000).toBeCloseTo(0.0493, 2);
  });

  it.each([3, 7, 8, 10, 11, 13, 14, 25])('of %i values leaves out what its name says, at either end', (count) => {
    const values = Array.from({ length: count }, (_, at) => (at + 1) ** 2);
    const far = given(dixonRatio(values, 'highest'));
    expect(far).toBeCloseTo(dixonByHand(values), 12);
    const mirrored = values.map((value) => 40 - 3 * value);
    expect(given(dixonRatio(mirrored, 'lowest'))).toBeCloseTo(far, 12);
  });

  it('refuses what is too few, too many or all alike', () => {
    expect(refusal(dixonRatio([1, 2], 'highest'))).toContain('too few');
    expect(
      refusal(
        dixonRatio(
          Array.from({ length: 26 }, (_, at) => at),
          'lowest',
        ),
      ),
    ).toContain('up to 25');
    expect(refusal(dixonRatio([4, 4, 4], 'lowest'))).toContain('alike');
  });
});

/** r10, r11, r21 and r22 written out, counted from the upper end. */
function dixonByHand(values: readonly number[]): number {
  const x = (place: number) => values.toSorted((a, b) => a - b).at(place) ?? Number.NaN;
  if (values.length < 8) return (x(-1) - x(-2)) / (x(-1) - x(0));
  if (values.length < 11) return (x(-1) - x(-2)) / (x(-1) - x(1));
  if (values.length < 14) return (x(-1) - x(-3)) / (x(-1) - x(1));
  return (x(-1) - x(-3)) / (x(-1) - x(2));
}

describe("Rosner's test", () => {
  /** The critical value by its formula, with the t quantile of a general-purpose library. */
  const critical = (count: number, step: number) => {
    const left = count - step + 1;
    const t = jstat.jStat.studentt.inv(1 - 0.05 / (2 * left), left - 2);
    return ((left - 1) * t) / Math.sqrt((left - 2 + t * t) * left);
  };

  it('Example 12-4 in ppb: 35.45 at 3.931 and then 23.23 at 4.160: two outliers', () => {
    const steps = given(rosnerSteps(NAPHTHALENE, 2));
    expect(steps.map((step) => step.value)).toEqual([35.45, 23.23]);
    expect(steps[0]?.ratio).toBeCloseTo(3.931, 3);
    expect(steps[1]?.ratio).toBeCloseTo(4.16, 3);
    expect(rosnerOutliers(steps, [critical(25, 1), critical(25, 2)])).toBe(2);
  });

  it('Example 12-4 in logarithms: 2.584 and 2.510, below the critical 2.82 and 2.80 (from memory): none', () => {
    const steps = given(rosnerSteps(NAPHTHALENE.map(Math.log), 2));
    expect(steps[0]?.ratio).toBeCloseTo(2.584, 3);
    expect(steps[1]?.ratio).toBeCloseTo(2.51, 3);
    expect([critical(25, 1).toFixed(2), critical(25, 2).toFixed(2)]).toEqual(['2.82', '2.80']);
    expect(rosnerOutliers(steps, [2.82, 2.8])).toBe(0);
  });

  it('counts up to the last step beyond its value, for one outlier can hide another', () => {
    const steps = [
      { value: 9, ratio: 2.5 },
      { value: 8, ratio: 3 },
    ];
    expect(rosnerOutliers(steps, [2.8, 2.8])).toBe(2);
    expect(refusal(rosnerOutliers(steps, [2.8]))).toContain('one for each');
  });

  it('has no distance where all are alike, and refuses more suspects than it can test', () => {
    expect(rosnerSteps([4, 4, 4], 1)).toEqual([{ value: 4, ratio: 0 }]);
    for (const most of [0, 24, 1.5]) expect(refusal(rosnerSteps(NAPHTHALENE, most))).toContain('give 1 to 23');
    expect(refusal(rosnerSteps([1, 2], 1))).toContain('too few');
  });

  it('does not see a shift or a unit', () => {
    const values = fc.array(fc.integer({ min: -999, max: 999 }), { minLength: 5, maxLength: 25 });
    fc.assert(
      fc.property(values, (all) => {
        const ratios = (row: readonly number[]) => given(rosnerSteps(row, 1)).map((step) => step.ratio);
        const [own] = ratios(all);
        expect(ratios(all.map((value) => 7 * value + 3))[0]).toBeCloseTo(own ?? Number.NaN, 9);
      }),
    );
  });
});
