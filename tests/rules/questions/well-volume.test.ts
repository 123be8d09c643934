import { describe, expect, it } from 'vitest';
import { wellVolume } from '../../../src/rules/questions/well-volume.ts';

const ask = (input: object) => wellVolume.answer(wellVolume.input.parse(input));
const plain = { depthToBottomFt: '64.52', depthToWaterFt: '49.90', casingInsideDiameterIn: '4.00' };

describe('how much water stands in this well?', () => {
  // County file, doc 581018, page 11, Table A-2 (June 1993): 28.5 gal with the rounded 0.65 gal/ft; exactly 28.63.
  it('gives three volumes of MW-4 of Table A-2', () => {
    expect(ask({ ...plain, wellVolumes: '3' })).toMatchObject({
      waterColumnFt: '14.62',
      casingGal: '9.54',
      casingL: '36.1',
      purgeGal: '28.6',
      wellGal: '9.54',
      packGal: null,
      screenGal: null,
      refused: null,
    });
  });

  it('takes the actual inside diameter of a nominal size, and says what the nominal one would cost', () => {
    const answer = ask({
      depthToBottomFt: '100.00',
      depthToWaterFt: '20.00',
      nominalCasingIn: '2',
      casingSchedule: '40',
    });
    expect(answer).toMatchObject({ casingInsideDiameterIn: '2.067', casingGal: '13.95' });
    expect(answer.reasons).toContain('Counted with the nominal 2 in the volume would come out 6.4 % less.');
    expect(answer.cautions[0]).toContain('goes before it');
  });

  it('names a figure of memory as one', () => {
    const { reasons } = ask({
      ...plain,
      casingInsideDiameterIn: undefined,
      nominalCasingIn: '3',
      casingSchedule: '40',
    });
    expect(reasons[1]).toContain('from memory, high confidence');
  });

  it('compares a measured diameter with the nominal size where both are known', () => {
    expect(ask({ ...plain, nominalCasingIn: '4', casingSchedule: '80' }).reasons).toHaveLength(1);
    const { reasons } = ask({ ...plain, casingInsideDiameterIn: '3.826', nominalCasingIn: '4' });
    expect(reasons[1]).toBe('Counted with the nominal 4 in the volume would come out 9.3 % more.');
    expect(ask({ ...plain, casingInsideDiameterIn: '3.826', nominalCasingIn: '0' }).reasons).toHaveLength(1);
  });

  it('has no more digits than the coarser depth', () => {
    expect(ask({ ...plain, depthToBottomFt: '64.5', casingInsideDiameterIn: '4.026' })).toMatchObject({
      waterColumnFt: '14.60',
      casingGal: '9.66',
    });
  });

  // Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed., p. 40, ex. 2.23: 3.92 cubic feet,
  // three times 88 gal.
  it("adds Kuo's filter pack", () => {
    const answer = ask({
      depthToBottomFt: '24.50',
      depthToWaterFt: '10.00',
      casingInsideDiameterIn: '4.000',
      casingOutsideDiameterIn: '4.000',
      boreholeDiameterIn: '10',
      packPorosity: '0.40',
      packTopFt: '5.0',
      wellVolumes: '3',
    });
    expect(answer).toMatchObject({ purgeGal: '88.03', wellL: '111.1', packL: '75.25', casingL: '35.83' });
    expect(answer.cautions).toEqual([]);
  });

  it('counts the pack only where it is saturated, and from the outside of the casing', () => {
    const given = {
      ...plain,
      nominalCasingIn: '4',
      casingSchedule: '40',
      boreholeDiameterIn: '8',
      packPorosity: '0.30',
    };
    const answer = ask({ ...given, packTopFt: '55.0', packBottomFt: '65.0' });
    expect(answer.reasons.at(-1)).toBe(
      '10.0 ft of the filter pack are under water, 8 in outside and 4.500 in inside, with 0.30 of pores.',
    );
    const inside = ask({ ...plain, boreholeDiameterIn: '8', packPorosity: '0.30', packTopFt: '55.0' });
    expect(inside.cautions).toEqual([
      'The inside diameter of the casing stands for its outside, which is not given: the pack comes out too large.',
    ]);
    expect(inside.packGal).not.toBeNull();
  });

  it.each([
    [{ boreholeDiameterIn: '8' }, 'none of them is assumed'],
    [{ boreholeDiameterIn: '8', packPorosity: '0.3' }, 'none of them is assumed'],
    [{ packPorosity: '0.3' }, 'none of them is assumed'],
    [{ packTopFt: '50.0' }, 'none of them is assumed'],
    [{ boreholeDiameterIn: '8', packPorosity: '0.3', packTopFt: '70' }, 'no length'],
    [{ boreholeDiameterIn: '3', packPorosity: '0.3', packTopFt: '50' }, 'no room'],
    [{ screenTopFt: '50.0' }, 'give its top and its bottom'],
    [{ screenBottomFt: '50.0' }, 'give its top and its bottom'],
    [{ screenTopFt: '64.0', screenBottomFt: '54.0' }, 'no length'],
  ])('leaves a part out that it cannot count, and says so: %j', (part, why) => {
    const answer = ask({ ...plain, ...part });
    expect(answer.cautions.join()).toContain(why);
    expect(answer).toMatchObject({ refused: null, wellGal: '9.54', packGal: null, screenGal: null });
  });

  it.each([
    ['45.0', 'all under water', '10.0'],
    ['59.52', 'partly under water', '5.00'],
    ['65', 'not under water', '0.0'],
  ])('counts the screen with water at %s ft: %s', (depthToWaterFt, how, saturatedScreenFt) => {
    const answer = ask({
      ...plain,
      depthToBottomFt: '70.00',
      depthToWaterFt,
      screenTopFt: '54.52',
      screenBottomFt: '64.52',
    });
    expect(answer.reasons.join()).toContain(how);
    expect(Number(answer.saturatedScreenFt)).toBe(Number(saturatedScreenFt));
    expect(Number(answer.screenGal)).toBeCloseTo(Number(saturatedScreenFt) * 0.6528, 1);
  });

  it.each([
    [{ depthToWaterFt: '64.53' }, 'below the bottom'],
    [{ casingInsideDiameterIn: undefined }, 'give one of them'],
    [{ casingInsideDiameterIn: undefined, nominalCasingIn: '2' }, 'give the schedule'],
    [{ casingInsideDiameterIn: undefined, nominalCasingIn: '5', casingSchedule: '40' }, 'not in the table'],
    [{ casingInsideDiameterIn: '0' }, 'holds nothing'],
  ])('refuses %j', (part, why) => {
    expect(ask({ ...plain, ...part }).refused).toContain(why);
  });

  it('is empty in a dry well, and warns of a flowing one', () => {
    expect(ask({ ...plain, depthToWaterFt: '64.52' })).toMatchObject({ waterColumnFt: '0.00', casingGal: '0' });
    expect(ask({ ...plain, depthToWaterFt: '-1.20' }).cautions[0]).toContain('above the measuring point');
  });

  it('does not read a number of volumes that is none', () => {
    expect(wellVolume.input.safeParse({ ...plain, wellVolumes: '0' }).success).toBe(false);
  });
});
