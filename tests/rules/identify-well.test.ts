import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { whichWell } from '../../src/rules/identify-well.ts';
import type { WellDepths } from '../../src/rules/well-depth.ts';

function well(name: string, fields: Partial<WellDepths['fields']>): WellDepths {
  return { id: name, fields: { name, standing: 'in-service', depthsFrom: 'measuring-point', ...fields } };
}

const shallow = well('MW-4S', { totalDepthFt: '25.3' });
const deep = well('MW-4D', { totalDepthFt: '61.8' });
const ask = (depthToBottomFt: string, nestWells: readonly WellDepths[] = [deep], one: WellDepths = shallow) =>
  whichWell({ well: one, nestWells, depthToBottomFt });

describe('which well of a nest was sounded', () => {
  it('names the well that fits', () => {
    expect(ask('61.6')).toEqual({
      fits: 'other',
      other: 'MW-4D',
      misses: 'deeper',
      sentence:
        '61.6 ft is near the depth of MW-4D (61.8 ft) of this nest, not of MW-4S (25.3 ft). Read the tag on the casing.',
    });
  });

  it('names the shallow well when it was sounded for the deep one', () => {
    expect(ask('25.1', [shallow], deep)).toMatchObject({ fits: 'other', other: 'MW-4S', misses: 'shallower' });
  });

  it('finds this well, by the tape', () => {
    for (const depth of ['25.0', '25.3', '25.5'])
      expect(ask(depth)).toEqual({ fits: 'this', sentence: `${depth} ft fits MW-4S (25.3 ft).` });
  });

  it('takes a little shallower for silt', () => {
    expect(ask('23.9')).toEqual({
      fits: 'this',
      sentence: '23.9 ft fits MW-4S (25.3 ft), 1.4 ft shallower, as silt makes a well.',
    });
  });

  it('asks once silt would have to be more than 2 ft', () => {
    expect(ask('23.3', [])).toMatchObject({ fits: 'this' });
    expect(ask('23.2', [])).toMatchObject({ fits: 'none', misses: 'shallower' });
    expect(ask('24.774700', []).sentence).not.toContain('silt');
    expect(ask('24.774699', []).sentence).toContain('silt');
  });

  it('never takes deeper for silt', () => {
    expect(ask('25.8')).toMatchObject({ fits: 'this' });
    expect(ask('25.9')).toMatchObject({ fits: 'none', misses: 'deeper' });
  });

  it('allows a long tape its stretch of 0.1 ft in 100 ft', () => {
    const far = well('MW-9', { totalDepthFt: '300.0' });
    expect(ask('300.8', [], far)).toMatchObject({ fits: 'this' });
    expect(ask('300.81', [], far)).toMatchObject({ fits: 'none' });
  });

  it('asks when nothing fits, and says which wells it compared', () => {
    const unknown = well('MW-4X', {});
    expect(ask('40.0', [deep, unknown]).sentence).toBe(
      '40.0 ft is 14.7 ft deeper than MW-4S (25.3 ft), which silt cannot explain. No other well of this nest fits. Not compared: the depth of MW-4X is not recorded. Read the tag on the casing and sound again.',
    );
    expect(ask('40.0', [unknown]).sentence).not.toContain('No other well');
    expect(ask('12.0', []).sentence).toBe(
      '12.0 ft is 13.3 ft shallower than MW-4S (25.3 ft), which may be silt, an obstruction or another well. Read the tag on the casing and sound again.',
    );
  });

  it('converts depths below ground by the stick-up, also of a mount below grade', () => {
    const ground = (name: string, totalDepthFt: string, stickUpFt: string) =>
      well(name, { depthsFrom: 'ground', totalDepthFt, stickUpFt });
    const own = ground('MW-5S', '25.3', '2.4');
    expect(ask('27.6', [], own).sentence).toBe('27.6 ft fits MW-5S (27.7 ft with its stick-up).');
    expect(ask('64.0', [ground('MW-5D', '61.8', '2.1')], own)).toMatchObject({ fits: 'other', other: 'MW-5D' });
    expect(ask('24.9', [], ground('MW-6', '25.3', '-0.4')).sentence).toBe(
      '24.9 ft fits MW-6 (24.9 ft with its stick-up).',
    );
  });

  it('does not guess a missing depth or stick-up', () => {
    expect(ask('61.6', [deep], well('MW-5S', { depthsFrom: 'ground', totalDepthFt: '25.3' }))).toEqual({
      fits: 'unknown',
      sentence:
        '61.6 ft cannot be compared: the depth of MW-5S is recorded below ground and its stick-up is not recorded.',
    });
    expect(ask('61.6', [deep], well('MW-5S', {}))).toMatchObject({ fits: 'unknown' });
    const ungauged = well('MW-4D', { depthsFrom: 'ground', totalDepthFt: '61.8' });
    expect(ask('61.6', [ungauged])).toMatchObject({ fits: 'none' });
  });

  it('does not offer a decommissioned well, nor the well itself', () => {
    expect(ask('61.6', [well('MW-4D', { totalDepthFt: '61.8', standing: 'decommissioned' })])).toMatchObject({
      fits: 'none',
    });
    expect(ask('61.6', [shallow, deep])).toMatchObject({ fits: 'other', other: 'MW-4D' });
  });

  it('offers the nearest well, and of equally near ones always the same', () => {
    const twin = well('MW-4E', { totalDepthFt: '61.4' });
    expect(ask('61.5', [deep, twin])).toMatchObject({ other: 'MW-4E' });
    expect(ask('61.6', [twin, deep])).toMatchObject({ other: 'MW-4D' });
    expect(ask('61.6', [deep, twin])).toMatchObject({ other: 'MW-4D' });
  });

  it('gives one answer for any order of the nest, and never a well that is too shallow', () => {
    const tenths = fc.integer({ min: 50, max: 900 }).map((value) => (value / 10).toFixed(1));
    const nest = fc.uniqueArray(tenths, { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(nest, tenths, (depths, sounded) => {
        const [own, ...rest] = depths.map((totalDepthFt, at) => well(`MW-${at}`, { totalDepthFt }));
        if (own === undefined) throw new Error('a nest has a well');
        const answer = ask(sounded, rest, own);
        expect(ask(sounded, rest.toReversed(), own)).toEqual(answer);
        const found = answer.fits === 'this' ? own : rest.find((one) => one.id === answer.other);
        if (found) expect(Number(sounded) - Number(found.fields.totalDepthFt)).toBeLessThan(0.6);
      }),
    );
  });
});
