import { describe, expect, it } from 'vitest';
import { drawdownRules } from '../../../src/rules/questions/drawdown-rules.ts';
import { lowYieldWell } from '../../../src/rules/questions/low-yield-well.ts';

const askRules = (input: object) => drawdownRules.answer(drawdownRules.input.parse(input));
const ask = (input: object) => lowYieldWell.answer(lowYieldWell.input.parse(input));

describe('is this drawdown, and this rate, within what is published?', () => {
  it('answers by every rule, in feet and in metres', () => {
    const answer = askRules({ staticDepthToWaterFt: '15.00', depthToWaterFt: '15.31', suites: ['volatiles'] });
    expect(answer).toMatchObject({
      refused: null,
      drawdownFt: '0.31',
      drawdownM: '0.094488',
      fillAtMostMlPerMin: '100',
    });
    expect(answer.reasons).toEqual(['Of 10 published rules: 1 within, 0 tolerated, 1 beyond, 8 not known.']);
    expect(answer.rates.map(({ id }) => id)).not.toContain('bottles-at-most-500-ml');
    expect(answer.cautions[0]).toContain('from which level drawdown counts');
  });

  it('questions a level above the static one', () => {
    const answer = askRules({ staticDepthToWaterFt: '15.00', depthToWaterFt: '14.90' });
    expect(answer.drawdownFt).toBe('-0.10');
    expect(answer.cautions[0]).toContain('above its static level');
  });
});

describe('the well gives little water: what is lawful next?', () => {
  const dry = {
    purgedDry: true,
    staticDepthToWaterFt: '20.00',
    lowestDepthToWaterFt: '30.00',
    depthToWaterFt: '24.00',
    depthToBottomFt: '40.0',
    screenTopFt: '28.0',
    sinceStoppedH: '2',
  };

  it('answers by the rule of the plan, and shows the others', () => {
    const answer = ask({
      ...dry,
      rule: 'recovered-80-percent-or-24-hours',
      limitOf: 'drawdown',
      suites: ['volatiles'],
    });
    expect(answer).toMatchObject({
      situation: 'purged-dry',
      stabilityRequired: false,
      lowYield: true,
      drawdownRecoveredPercent: '60.0',
      columnRecoveredPercent: '80.0',
      next: 'wait',
      waitMin: '1320',
      refused: null,
    });
    expect(answer.rules).toHaveLength(5);
    expect(answer.reasons).toHaveLength(2);
    expect(answer.cautions[0]).toContain('runs down inside it');
    expect(answer.cautions[1]).toContain('Volatiles');
    expect(answer.steps.find(({ id }) => id === 'leave-the-intake')).toMatchObject({
      kind: 'do-not',
      source: expect.stringContaining('p. 6 of 13'),
    });
  });

  it('chooses no rule where the plan names none', () => {
    expect(ask({ ...dry, suites: ['metals'] })).toMatchObject({
      next: null,
      waitMin: null,
      cautions: [expect.any(String), expect.any(String)],
    });
  });

  it('counts what can be drawn, rounded down', () => {
    const answer = ask({
      ...dry,
      casingInsideDiameterIn: '2.00',
      intakeDepthFt: '25.0',
      neededMl: '600',
      rule: 'as-soon-as-enough-has-recovered',
    });
    expect(answer).toMatchObject({ drawableMl: '617', enoughWater: true, next: 'sample-now' });
  });

  it('has the rate lowered where drawdown grows, and nothing to say where neither is so', () => {
    const growing = ask({ drawdownGrowing: true });
    expect(growing).toMatchObject({ situation: 'drawdown-grows', stabilityRequired: null, rules: [], next: null });
    expect(growing.steps.map(({ id }) => id)).toContain('lower-the-rate');
    expect(ask({ purgedDry: false, drawdownGrowing: false })).toMatchObject({
      situation: 'neither',
      steps: [],
      rules: [],
    });
  });

  it('refuses where nothing was said, and answers where at least pumping stopped', () => {
    expect(ask({ rule: 'recovered-70-percent' })).toMatchObject({
      situation: null,
      refused: expect.stringContaining('Say whether the well was pumped dry'),
    });
    expect(ask({ ...dry, purgedDry: undefined, rule: 'recovered-70-percent', limitOf: 'water-column' })).toMatchObject({
      situation: 'not-known',
      next: 'sample-now',
      steps: [],
    });
  });
});
