import { describe, expect, it } from 'vitest';
import { wellIdentity } from '../../../src/rules/questions/well-identity.ts';

const ask = (measured: object, others: object[] = [deep]) =>
  wellIdentity.answer(wellIdentity.input.parse({ supposed: shallow, others, ...measured }));
const shallow = {
  name: 'MW-4S',
  totalDepthFt: '25.3',
  casingInsideDiameterIn: '2.067',
  earlierDepthsToWaterFt: ['12.40'],
};
const deep = { name: 'MW-4D', totalDepthFt: '61.8', stickUpFt: '2.1' };

describe('which well is this?', () => {
  it('says "61.6 ft is the deep well of this nest" before the pump goes in', () => {
    const answer = ask({ depthToBottomFt: '61.6' });
    expect(answer).toMatchObject({ fits: 'other', couldBe: ['MW-4D'] });
    expect(answer.reasons).toEqual([
      'What was measured fits MW-4D, not MW-4S. Read the tag on the casing before the pump goes in.',
    ]);
    expect(answer.cautions).toHaveLength(1);
  });

  it('knows this well, and then warns of nothing', () => {
    expect(ask({ depthToBottomFt: '25.2', depthToWaterFt: '12.9' })).toMatchObject({
      fits: 'this',
      couldBe: ['MW-4S'],
      cautions: [],
    });
  });

  it('says so where it cannot decide, where nothing fits, and where there is nothing to compare', () => {
    const twin = { name: 'MW-4T', totalDepthFt: '25.1' };
    expect(ask({ depthToBottomFt: '25.2' }, [twin]).reasons[0]).toContain('fits MW-4S, MW-4T alike');
    expect(ask({ depthToBottomFt: '99' }).reasons[0]).toContain('neither MW-4S nor another');
    expect(ask({}).reasons[0]).toContain('Nothing that was measured');
  });

  it('tells two wells of one name apart, and counts depths below ground by the stick-up', () => {
    const ground = { name: 'MW-4S', totalDepthFt: '61.8', depthsFrom: 'ground', stickUpFt: '2.1', standing: 'unknown' };
    expect(ask({ depthToBottomFt: '63.9' }, [ground])).toMatchObject({ fits: 'other', couldBe: ['MW-4S'] });
    expect(ask({ depthToBottomFt: '63.9' }, [{ ...ground, standing: 'decommissioned' }])).toMatchObject({
      fits: 'none',
    });
  });

  it('shows each piece of evidence', () => {
    const [own] = ask({
      depthToBottomFt: '25.2',
      casingInsideDiameterIn: '4.0',
      stickUpFt: '1',
      depthToWaterFt: '12',
    }).wells;
    expect(own?.evidence.map((one) => `${one.kind} ${one.finding}`)).toEqual([
      'depth agrees',
      'casing contradicts',
      'stick-up unknown',
      'water-level agrees',
    ]);
  });
});
