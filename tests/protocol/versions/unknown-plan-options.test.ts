import { expect, it } from 'vitest';
import { criteriaSets } from '../../../src/catalog/criteria-sets.ts';
import { unknownPlanOptions } from '../../../src/protocol/unknown-plan-options.ts';

const criteria = criteriaSets[0]?.id;

it('[V8] names the options of a plan that this version does not know, and values of options that it knows', () => {
  expect(unknownPlanOptions({ criteria })).toEqual([]);
  expect(unknownPlanOptions({ criteria, stabilization: { graceS: 30, drawdown: { limitFt: '0.3' } } })).toEqual([]);
  const later = {
    criteria: 'an-edition-of-next-year',
    weather: { wind: true },
    stabilization: { graceS: 30, count: 'pairs', also: 1, drawdown: { limitFt: '0.3', beside: [] } },
  };
  expect(unknownPlanOptions(later)).toEqual([
    '/criteria',
    '/stabilization/also',
    '/stabilization/count',
    '/stabilization/drawdown/beside',
    '/weather',
  ]);
});
