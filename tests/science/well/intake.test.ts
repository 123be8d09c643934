import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isRefusal, type Refusal } from '../../../src/science/refusal.ts';
import { intakeConflicts, leastSaturatedLengthFt } from '../../../src/science/well/intake-conflicts.ts';
import { type IntakeGiven, type IntakePosition, intakePosition } from '../../../src/science/well/intake-position.ts';
import { type SaturatedInterval, saturatedInterval } from '../../../src/science/well/saturated-interval.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a place');

function placed(result: IntakePosition | Refusal): IntakePosition {
  if (isRefusal(result)) throw new Error(result.refused);
  return result;
}

const well: IntakeGiven = {
  screenTopFt: '20.0',
  screenBottomFt: '30.0',
  depthToWaterFt: '12.40',
  depthToBottomFt: '30.2',
  bottomClearanceFt: '2',
};
const kinds = (part: Partial<IntakeGiven>) =>
  placed(intakePosition({ ...well, ...part })).conflicts.map((one) => one.kind);

describe('saturated part of a screen', () => {
  it.each([
    ['12.40', 'submerged', '20.0', '10.0'],
    ['20.0', 'submerged', '20.0', '10.0'],
    ['24.50', 'partly', '24.50', '5.50'],
    ['30.0', 'dry', '30.0', '0.0'],
    ['31', 'dry', '30.0', '0.0'],
    ['-3.1', 'submerged', '20.0', '10.0'],
  ])('with water at %s ft is %s from %s ft, %s ft long', (depthToWaterFt, state, topFt, lengthFt) => {
    const interval = saturatedInterval({ topFt: '20.0', bottomFt: '30.0', depthToWaterFt });
    expect(interval).toEqual({ state, topFt, bottomFt: '30.0', lengthFt });
  });

  it('never grows as the water falls', () => {
    const tenths = fc.integer({ min: -100, max: 500 }).map((value) => (value / 10).toFixed(1));
    const length = (depthToWaterFt: string) =>
      Number((saturatedInterval({ topFt: '20.0', bottomFt: '30.0', depthToWaterFt }) as SaturatedInterval).lengthFt);
    fc.assert(
      fc.property(tenths, tenths, (a, b) => {
        const [higher, lower] = Number(a) < Number(b) ? [a, b] : [b, a];
        expect(length(lower)).toBeLessThanOrEqual(length(higher));
      }),
    );
  });

  it('refuses an interval upside down, or what is no number', () => {
    expect(why(saturatedInterval({ topFt: '30', bottomFt: '30.0', depthToWaterFt: '1' }))).toContain('no length');
    expect(why(saturatedInterval({ topFt: '', bottomFt: '30.0', depthToWaterFt: '1' }))).toContain('plain decimal');
  });
});

describe('where the intake goes', () => {
  it('is the middle of a screen that is all under water', () => {
    expect(placed(intakePosition(well))).toMatchObject({
      middleFt: '25.0',
      conflicts: [],
      clear: { fromFt: '20.0', toFt: '28.2' },
    });
  });

  it('is the middle of what is under water of a screen that is not', () => {
    expect(placed(intakePosition({ ...well, depthToWaterFt: '23.47' }))).toMatchObject({
      middleFt: '26.735',
      conflicts: [],
      clear: { fromFt: '23.47', toFt: '28.2' },
    });
  });

  it('is the middle of what silt has left open', () => {
    expect(placed(intakePosition({ ...well, depthToBottomFt: '26.0' }))).toMatchObject({
      saturated: { bottomFt: '26.0' },
      middleFt: '23.0',
      clear: { fromFt: '20.0', toFt: '24.0' },
    });
  });

  // US EPA Region 1 low-stress procedure, at least 2 ft above the bottom (from memory): less than 4 ft of water in a
  // screen at the bottom cannot satisfy both.
  it('cannot keep 2 ft from the bottom in less than 4 ft of saturated screen that ends there', () => {
    const short = (depthToWaterFt: string) =>
      placed(intakePosition({ ...well, depthToBottomFt: '30.0', depthToWaterFt }));
    expect(leastSaturatedLengthFt('2')).toBe('4');
    expect(short('26.0')).toMatchObject({ middleFt: '28.0', conflicts: [] });
    expect(short('26.01')).toMatchObject({ middleFt: '28.005', conflicts: [{ kind: 'near-bottom' }] });
    expect(short('26.01').clear).toEqual({ fromFt: '26.01', toFt: '28.0' });
    expect(short('28.0').clear).toEqual({ fromFt: '28.0', toFt: '28.0' });
    expect(short('28.01').clear).toBeNull();
  });

  it('is bounded by the end of a screen above a long sump', () => {
    expect(placed(intakePosition({ ...well, depthToBottomFt: '40.0' })).clear).toEqual({
      fromFt: '20.0',
      toFt: '30.0',
    });
  });

  it.each([
    [{ depthToWaterFt: '30.00' }, 'stands below the screen'],
    [{ depthToBottomFt: '19.9' }, 'above the whole screen'],
    [{ depthToBottomFt: '20.0' }, 'above the whole screen'],
    [{ screenTopFt: '30.0' }, 'no length'],
    [{ screenTopFt: 'top' }, 'plain decimal'],
  ])('refuses %j', (part, reason) => {
    expect(why(intakePosition({ ...well, ...part }))).toContain(reason);
  });

  it('moves with the well when every depth is counted from another point', () => {
    const depth = fc.integer({ min: 0, max: 5_000 }).map((value) => (value / 100).toFixed(2));
    fc.assert(
      fc.property(depth, depth, (water, shift) => {
        const moved = (text: string) => new Decimal(text).plus(shift).toFixed(2);
        const here = intakePosition({ ...well, depthToWaterFt: water });
        const there = intakePosition({
          screenTopFt: moved('20.0'),
          screenBottomFt: moved('30.0'),
          depthToWaterFt: moved(water),
          depthToBottomFt: moved('30.2'),
          bottomClearanceFt: '2',
        });
        if (isRefusal(here)) expect(isRefusal(there)).toBe(true);
        else {
          expect(Number(placed(there).middleFt)).toBeCloseTo(Number(here.middleFt) + Number(shift), 9);
          expect(placed(there).conflicts.map((one) => one.kind)).toEqual(here.conflicts.map((one) => one.kind));
        }
      }),
    );
  });
});

describe('what speaks against an intake', () => {
  const saturated: SaturatedInterval = { state: 'submerged', topFt: '20.0', bottomFt: '30.0', lengthFt: '10.0' };
  const surroundings = { saturated, depthToWaterFt: '12.40', depthToBottomFt: '30.2', bottomClearanceFt: '2' };
  const against = (depth: string) => intakeConflicts(surroundings, depth).map((one) => one.kind);

  it.each([
    ['12.39', ['above-water']],
    ['12.40', ['above-saturated-top']],
    ['19.99', ['above-saturated-top']],
    ['20.0', []],
    ['28.2', []],
    ['28.21', ['near-bottom']],
    ['30.0', ['near-bottom']],
    ['30.1', ['below-interval', 'near-bottom']],
    ['30.3', ['below-interval', 'below-bottom']],
  ])('at %s ft: %j', (depth, expected) => {
    expect(against(depth)).toEqual(expected);
  });

  it('says how far off it is', () => {
    expect(intakeConflicts(surroundings, '28.7')[0]?.because).toBe(
      'An intake at 28.7 ft is 1.5 ft above the bottom, less than 2 ft: it stirs up what lies there.',
    );
  });

  it('takes exactly 2 ft for 2 ft, which binary numbers make 1.9999999999999964', () => {
    expect(32.3 - 30.3).toBeLessThan(2);
    const deeper = { ...surroundings, saturated: { ...saturated, bottomFt: '31.0' }, depthToBottomFt: '32.3' };
    expect(intakeConflicts(deeper, '30.3')).toEqual([]);
  });

  it('finds none in the depths that are called clear, and some just outside', () => {
    const hundredths = fc.integer({ min: 0, max: 1_000 }).map((value) => (20 + value / 100).toFixed(2));
    fc.assert(
      fc.property(hundredths, hundredths, (water, intake) => {
        const place = intakePosition({ ...well, depthToWaterFt: water });
        if (isRefusal(place)) return;
        const conflicts = intakeConflicts(
          { ...surroundings, saturated: place.saturated, depthToWaterFt: water },
          intake,
        );
        const clear =
          place.clear !== null &&
          new Decimal(intake).gte(place.clear.fromFt) &&
          new Decimal(intake).lte(place.clear.toFt);
        expect(conflicts.length === 0).toBe(clear);
      }),
    );
  });

  it('is told of the middle too', () => {
    expect(kinds({ bottomClearanceFt: '6' })).toEqual(['near-bottom']);
  });
});
