import { describe, expect, it } from 'vitest';
import { samplingPlanTold } from '../../../src/rules/sampling-plan/plan-told.ts';
import { idOf, type RoundOf, TestRound } from './plan-facts.ts';

function told(given: RoundOf, change: (round: TestRound) => void = () => {}) {
  const round = new TestRound({ suites: ['VOC', 'Metals'], ...given });
  change(round);
  return samplingPlanTold(round.propose(), round.facts());
}

describe('suites that go to no laboratory', () => {
  it('are named with their groups where the firm has two and nobody chose, before the plan is written', () => {
    const { withoutLaboratory, notes, bottleOrder } = told({ wells: 3, laboratories: 2 });
    expect(withoutLaboratory.map(({ suite, groups }) => [suite, groups])).toEqual([
      ['Metals', ['metals-total']],
      ['VOC', ['volatiles']],
    ]);
    const nowhere = bottleOrder.filter(({ laboratory }) => laboratory === null);
    const temperature = nowhere.filter(({ groups }) => groups.includes('temperature'));
    const sum = (list: readonly { count: number }[]) => list.reduce((all, { count }) => all + count, 0);
    const containers = withoutLaboratory.reduce((all, one) => all + one.containers, 0);
    expect(containers).toBe(sum(nowhere) - sum(temperature));
    expect(notes).toContainEqual(
      expect.stringMatching(
        /^No laboratory is named for Metals \(metals-total; containers: \d+\), VOC \(volatiles; containers: \d+\), and the firm has 2 \(Laboratory 1, Laboratory 2\): name one/,
      ),
    );
  });

  it('are those alone of which neither plan nor suite says it', () => {
    const sampling = { laboratoryOf: [{ suite: 'VOC', laboratory: idOf('lab-1') }] };
    const ions = [{ group: 'chloride', laboratory: idOf('lab-2') }, { group: 'sulfate' }];
    const { withoutLaboratory } = told({ wells: 1, laboratories: 2, sampling, suites: ['VOC', 'Ions'] }, (round) =>
      round.amend(idOf('suite Ions'), { groups: ions }),
    );
    expect(withoutLaboratory.map(({ suite, groups }) => [suite, groups])).toEqual([['Ions', ['sulfate']]]);
  });

  it('are named with every group of a bottle that serves several, and also of what was taken without a plan', () => {
    const ions = told({ wells: 1, laboratories: 2, suites: ['Ions'] });
    expect(ions.withoutLaboratory.map(({ groups }) => groups)).toEqual([['chloride', 'nitrate', 'sulfate']]);
    const taken = told({ wells: 1, laboratories: 2, suites: ['SVOC'] }, (round) => {
      const sample = round.sample(1, { suites: ['SVOC'] });
      const bottle = { event: round.event, sample, group: 'semivolatiles', suite: 'SVOC', type: 'bottle' };
      round.put('container', idOf('a-1'), { ...bottle, volumeMl: '1000', label: 'a-1', standing: 'filled' });
    });
    expect(taken.adopted).toHaveLength(1);
    expect(taken.withoutLaboratory).toEqual([{ suite: 'SVOC', groups: ['semivolatiles'], containers: 1 }]);
  });

  it('are none where the firm has one, and where it has none that is said', () => {
    expect(told({ wells: 2 })).toMatchObject({ withoutLaboratory: [], notes: [] });
    const none = told({ wells: 2, suites: ['VOC'] }, (round) => round.void(idOf('lab-1')));
    expect(none.withoutLaboratory).toHaveLength(1);
    expect(none.notes.join()).toContain('and none is on record: record it (POST /v1/laboratories).');
  });
});
