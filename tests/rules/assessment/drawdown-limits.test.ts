import { describe, expect, it } from 'vitest';
import type { StabilizationPlan } from '../../../src/protocol/event-plan.ts';
import type { WellRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { assess, every5Min, level, setUp, well } from './purge-fixture.ts';

type DrawdownPlan = NonNullable<StabilizationPlan['drawdown']>;

const WELL: Partial<WellRecord['fields']> = { totalDepthFt: '42.10', screenTopFt: '30', screenBottomFt: '40' };

function drawdown(
  depthFt: string,
  plan: DrawdownPlan,
  more: { well?: WellRecord | null; intakeDepthFt?: string } = {},
) {
  return assess({
    readings: every5Min([{ depthToWaterFt: depthFt }, { depthToWaterFt: depthFt }, { depthToWaterFt: depthFt }]),
    levels: [level({ time: '09:50' }, 'before-purge', '22.10')],
    setUps: [setUp({ time: '09:55' }, { intakeDepthFt: more.intakeDepthFt ?? '35' })],
    well: more.well === undefined ? well(WELL) : more.well,
    plan: { drawdown: plan },
  }).conditions.drawdown;
}

describe('a limit of the drawdown in percent', () => {
  // 25 % of 5 ft between screen top and intake, 10 % of 10 ft of screen, 5 % of 20 ft of water.
  it.each([
    [{ limitScreenTopToIntakePercent: '25' }, '23.35', '23.36', '% of the distance from the top of the screen'],
    [{ limitScreenLengthPercent: '10' }, '23.10', '23.11', '% of the length of the screen'],
    [{ limitWaterColumnPercent: '5' }, '23.10', '23.11', '% of the water that stood in the well'],
  ] as const)('[A27] %j is met at %s ft and not at %s ft', (plan, at, beyond, words) => {
    expect(drawdown(at, plan)).toMatchObject({ status: 'within', limit: Object.values(plan)[0] });
    expect(drawdown(beyond, plan)).toMatchObject({ status: 'beyond-but-steady' });
    expect(drawdown(beyond, plan).because).toContain(words);
  });

  it.each([
    [{ limitScreenTopToIntakePercent: '25' }, { intakeDepthFt: '30' }],
    [{ limitScreenTopToIntakePercent: '25' }, { well: null }],
    [{ limitScreenLengthPercent: '10' }, { well: well({ screenTopFt: '30' }) }],
    [{ limitScreenLengthPercent: '10' }, { well: well({ screenTopFt: '30', screenBottomFt: '30' }) }],
    [{ limitWaterColumnPercent: '5' }, { well: well({ totalDepthFt: '20' }) }],
  ])('[A27] %j is not compared with %j: the length is not known', (plan, more) => {
    expect(drawdown('25', plan, more)).toMatchObject({ status: 'steady', drawdownFt: '2.90' });
  });

  it('[A27] counts depths below ground with the stick-up', () => {
    const ground = well({ ...WELL, depthsFrom: 'ground', stickUpFt: '2.00', totalDepthFt: '40.10' });
    expect(drawdown('23.10', { limitWaterColumnPercent: '5' }, { well: ground })).toMatchObject({ status: 'within' });
    expect(drawdown('23.11', { limitWaterColumnPercent: '5' }, { well: ground })).toMatchObject({
      status: 'beyond-but-steady',
    });
  });

  it('[A27] may be none: the level may stand at any depth if it is steady', () => {
    const any = drawdown('29.00', { steadyAtAnyDepth: true });
    expect(any).toMatchObject({ status: 'steady' });
    expect(any).not.toHaveProperty('limit');
    expect(drawdown('29.00', { steadyAtAnyDepth: false })).toMatchObject({ status: 'beyond-but-steady', limit: '0.3' });
  });
});

describe('a set that requires a steady level', () => {
  // A US state solid-waste rule (seen): the water level must be stable too.
  const levels = [level({ time: '09:50' }, 'before-purge', '22.10')];
  const falling = every5Min([{ depthToWaterFt: '22.2' }, { depthToWaterFt: '22.3' }, { depthToWaterFt: '22.4' }]);
  const given = { criteria: 'state-solid-waste-rule', readings: falling, levels };

  it('[A27] keeps the well unstable while it falls, unless the plan only reports it', () => {
    const required = assess(given);
    expect([required.stable, required.conditions.drawdown.required]).toEqual([false, true]);
    expect(required.missing).toEqual([
      'Drawdown: The level stands 0.30 ft below the static one. It moved by 0.2 ft within the window, more than 0.05 ft.',
    ]);
    expect(assess({ ...given, plan: { drawdown: { steady: 'reported' } } }).stable).toBe(true);
  });
});
