import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CASING_SIZES } from '../../../src/catalog/well/casing-sizes.ts';
import { whichWell } from '../../../src/rules/identify-well.ts';
import type { WellCandidate, WellMeasured } from '../../../src/rules/well-identity/evidence.ts';
import { identifyByEvidence } from '../../../src/rules/well-identity/identify-by-evidence.ts';

function well(
  name: string,
  fields: Partial<WellCandidate['fields']>,
  more: Omit<WellCandidate, 'id' | 'fields'> = {},
): WellCandidate {
  return { id: name, fields: { name, standing: 'in-service', depthsFrom: 'measuring-point', ...fields }, ...more };
}

const shallow = well(
  'MW-4S',
  { totalDepthFt: '25.3', stickUpFt: '2.4' },
  { casingInsideDiameterIn: '2.067', earlierDepthsToWaterFt: ['12.40', '13.15', '12.9'] },
);
const deep = well(
  'MW-4D',
  { totalDepthFt: '61.8', stickUpFt: '2.1' },
  { casingInsideDiameterIn: '4.026', earlierDepthsToWaterFt: ['31.20', '31.55'] },
);
const twin = well('MW-4T', { totalDepthFt: '25.1', stickUpFt: '2.3' }, { casingInsideDiameterIn: '2.067' });
const ask = (measured: WellMeasured, others: readonly WellCandidate[] = [deep], one = shallow) =>
  identifyByEvidence(one, others, measured);
const findings = (measured: WellMeasured, one = shallow) =>
  ask(measured, [], one).weighed[0]?.evidence.map((piece) => piece.finding);
const names = (answer: ReturnType<typeof ask>) => answer.could.map((one) => one.well.fields.name);

describe('what one measurement says', () => {
  it.each([
    [{ depthToBottomFt: '25.5' }, ['agrees', 'unknown', 'unknown', 'unknown']],
    [{ depthToBottomFt: '25.9' }, ['contradicts', 'unknown', 'unknown', 'unknown']],
    [{ depthToBottomFt: '23.3' }, ['agrees', 'unknown', 'unknown', 'unknown']],
    [{ depthToBottomFt: '23.2' }, ['doubts', 'unknown', 'unknown', 'unknown']],
    [{ casingInsideDiameterIn: '2' }, ['unknown', 'agrees', 'unknown', 'unknown']],
    [{ casingInsideDiameterIn: '2.2737' }, ['unknown', 'agrees', 'unknown', 'unknown']],
    [{ casingInsideDiameterIn: '2.2738' }, ['unknown', 'contradicts', 'unknown', 'unknown']],
    [{ casingInsideDiameterIn: '4' }, ['unknown', 'contradicts', 'unknown', 'unknown']],
    [{ stickUpFt: '1.9' }, ['unknown', 'unknown', 'agrees', 'unknown']],
    [{ stickUpFt: '1.8' }, ['unknown', 'unknown', 'doubts', 'unknown']],
    [{ depthToWaterFt: '15.15' }, ['unknown', 'unknown', 'unknown', 'agrees']],
    [{ depthToWaterFt: '15.16' }, ['unknown', 'unknown', 'unknown', 'doubts']],
    [{ depthToWaterFt: '10.39' }, ['unknown', 'unknown', 'unknown', 'doubts']],
    [{}, ['unknown', 'unknown', 'unknown', 'unknown']],
  ])('%j: %j', (measured, expected) => {
    expect(findings(measured)).toEqual(expected);
  });

  it('takes every nominal size for its actual inside diameter, and none for the next size', () => {
    for (const one of CASING_SIZES) {
      const recorded = well('MW-0', {}, { casingInsideDiameterIn: one.insideDiameterIn.value });
      for (const other of CASING_SIZES) {
        const found = findings({ casingInsideDiameterIn: other.nominalIn }, recorded)?.[1];
        const near = one.nominalIn === '1.25' && other.nominalIn === '1.5';
        expect(found).toBe(other.nominalIn === one.nominalIn || near ? 'agrees' : 'contradicts');
      }
    }
  });

  it('is nothing where the record has nothing', () => {
    const all = { depthToBottomFt: '25.3', casingInsideDiameterIn: '2', stickUpFt: '2.4', depthToWaterFt: '12.9' };
    expect(findings(all, well('MW-0', {}))).toEqual(['unknown', 'unknown', 'unknown', 'unknown']);
    expect(findings(all, well('MW-0', {}, { earlierDepthsToWaterFt: [] }))?.[3]).toBe('unknown');
    expect(ask(all, [], well('MW-0', {})).weighed[0]?.evidence.map((piece) => piece.sentence)).toEqual([
      'Not compared: the depth of MW-0 is not recorded.',
      'Not compared: the casing of MW-0 is not recorded.',
      'Not compared: the stick-up of MW-0 is not recorded.',
      'Not compared: no earlier level of MW-0 is at hand.',
    ]);
  });

  it('says the numbers', () => {
    const sentences = (measured: WellMeasured) => ask(measured, []).weighed[0]?.evidence.map((one) => one.sentence);
    expect(sentences({ depthToBottomFt: '61.6', casingInsideDiameterIn: '4.0' })?.slice(0, 2)).toEqual([
      '61.6 ft was sounded, MW-4S is recorded with 25.3 ft: 36.3 ft deeper, which nothing makes a well.',
      'A casing of 4.0 in was measured, MW-4S is recorded with 2.067 in: 1.933 in apart is another size.',
    ]);
    expect(sentences({ depthToWaterFt: '31.3' })?.[3]).toBe(
      'Water at 31.3 ft; in MW-4S it stood between 12.4 and 13.15 ft in earlier rounds: it has moved far, or this is another well.',
    );
  });

  it('widens the range of a water that moves much', () => {
    const moving = well('MW-9', {}, { earlierDepthsToWaterFt: ['10.0', '20.0'] });
    expect(findings({ depthToWaterFt: '29.9' }, moving)?.[3]).toBe('agrees');
    expect(findings({ depthToWaterFt: '30.1' }, moving)?.[3]).toBe('doubts');
  });
});

describe('which well stands before us', () => {
  it('finds this well, and the other one, as the depth alone does', () => {
    expect(ask({ depthToBottomFt: '25.2' })).toMatchObject({ fits: 'this' });
    const answer = ask({ depthToBottomFt: '61.6' });
    expect(answer.fits).toBe('other');
    expect(names(answer)).toEqual(['MW-4D']);
  });

  it('tells twins by depth apart where the casing differs, and says that it cannot where it does not', () => {
    expect(ask({ depthToBottomFt: '25.2' }, [twin])).toMatchObject({ fits: 'undecided' });
    const wide = { ...twin, casingInsideDiameterIn: '4.026' };
    expect(ask({ depthToBottomFt: '25.2', casingInsideDiameterIn: '2.0' }, [wide])).toMatchObject({ fits: 'this' });
    const answer = ask({ depthToBottomFt: '25.2', casingInsideDiameterIn: '4.0' }, [wide]);
    expect(answer.fits).toBe('other');
    expect(names(answer)).toEqual(['MW-4T']);
  });

  it('lets the water decide between twins', () => {
    const other = { ...twin, earlierDepthsToWaterFt: ['18.90'] };
    expect(ask({ depthToBottomFt: '25.2', depthToWaterFt: '12.8' }, [other])).toMatchObject({ fits: 'this' });
    expect(ask({ depthToBottomFt: '25.2', depthToWaterFt: '18.7' }, [other])).toMatchObject({ fits: 'other' });
    const between = ask({ depthToBottomFt: '25.2', depthToWaterFt: '45' }, [other]);
    expect(between.fits).toBe('undecided');
    expect(names(between)).toEqual(['MW-4S', 'MW-4T']);
  });

  it('stays with the supposed well where only something explainable speaks against it', () => {
    expect(ask({ depthToBottomFt: '25.2', stickUpFt: '1.0' })).toMatchObject({ fits: 'this' });
    expect(ask({ depthToBottomFt: '25.2', stickUpFt: '1.0' }).weighed[0]).toMatchObject({ stands: 'doubtful' });
  });

  it('gives none where all are contradicted, and unknown where nothing can be compared', () => {
    expect(ask({ depthToBottomFt: '99' })).toMatchObject({ fits: 'none', could: [] });
    expect(ask({ depthToBottomFt: '99' }, [], well('MW-0', {}))).toMatchObject({ fits: 'unknown', could: [] });
    expect(ask({})).toMatchObject({ fits: 'unknown' });
  });

  it('offers a well that is only doubtful where the supposed one is out of the question', () => {
    const answer = ask({ depthToBottomFt: '61.6', stickUpFt: '5' });
    expect(answer.fits).toBe('other');
    expect(answer.could[0]?.stands).toBe('doubtful');
    const several = ask({ depthToBottomFt: '61.6' }, [deep, { ...deep, id: 'MW-4E' }]);
    expect(several.fits).toBe('undecided');
  });

  it('does not offer a decommissioned well, nor the supposed one twice', () => {
    const gone = well('MW-4D', { totalDepthFt: '61.8', standing: 'decommissioned' });
    expect(ask({ depthToBottomFt: '61.6' }, [gone, shallow])).toMatchObject({ fits: 'none' });
    expect(ask({ depthToBottomFt: '61.6' }, [gone, shallow]).weighed).toHaveLength(1);
  });

  it('gives one answer for any order of the candidates', () => {
    const tenths = fc.integer({ min: 50, max: 900 }).map((value) => (value / 10).toFixed(1));
    fc.assert(
      fc.property(fc.array(tenths, { minLength: 1, maxLength: 5 }), tenths, tenths, (depths, bottom, water) => {
        const [own, ...rest] = depths.map((totalDepthFt, at) =>
          well(`MW-${at}`, { totalDepthFt }, { earlierDepthsToWaterFt: [totalDepthFt] }),
        );
        if (own === undefined) throw new Error('there is a well');
        const measured = { depthToBottomFt: bottom, depthToWaterFt: water };
        expect(ask(measured, rest.toReversed(), own)).toEqual(ask(measured, rest, own));
      }),
    );
  });

  it('never contradicts the answer from depth alone where only the depth is known', () => {
    const tenths = fc.integer({ min: 50, max: 900 }).map((value) => (value / 10).toFixed(1));
    fc.assert(
      fc.property(fc.array(tenths, { minLength: 1, maxLength: 4 }), tenths, (depths, depthToBottomFt) => {
        const [own, ...rest] = depths.map((totalDepthFt, at) => well(`MW-${at}`, { totalDepthFt }));
        if (own === undefined) throw new Error('there is a well');
        const byDepth = whichWell({ well: own, nestWells: rest, depthToBottomFt });
        const answer = ask({ depthToBottomFt }, rest, own);
        if (byDepth.fits === 'other') expect(names(answer)).toContain(byDepth.other);
        if (byDepth.fits === 'this') expect(names(answer)).toContain(own.fields.name);
        if (answer.fits === 'other') expect(byDepth.fits).toBe('other');
      }),
    );
  });
});
