import { describe, expect, it } from 'vitest';
import { linkFaults } from '../../../src/rules/sampling-plan/sample-links.ts';
import { idOf, TestRound } from './plan-facts.ts';

const OTHERWISE = { reason: 'Permit', approvedBy: 'Cleo' };

/** The containers of the sample of the only well, as they are labelled. */
function bottles(groups: readonly object[], sampling?: Record<string, unknown>, laboratories = 1) {
  const round = new TestRound({ wells: 1, suites: ['Own'], laboratories, ...(sampling ? { sampling } : {}) });
  round.put('analyte-suite', idOf('suite Own'), { name: 'Own', groups });
  round.plan();
  const [sample] = round.planned('normal');
  return round.containersOf(sample?.id ?? '').map(({ fields }) => fields);
}

const short = (list: ReturnType<typeof bottles>) =>
  list.map(({ group, alsoGroups, volumeMl, preservatives }) => [group, alsoGroups ?? [], volumeMl, preservatives]);

describe('bottles of a sample', () => {
  it('one with sulfuric acid serves ammonia, Kjeldahl nitrogen, nitrate plus nitrite, phosphorus and oxygen demand', () => {
    const groups = [
      'ammonia',
      'kjeldahl-nitrogen',
      'nitrate-plus-nitrite',
      'phosphorus-total',
      'chemical-oxygen-demand',
    ];
    const [bottle, ...others] = bottles(groups.map((group) => ({ group })));
    expect(others).toEqual([]);
    expect(bottle).toMatchObject({
      type: 'bottle',
      material: 'polyethylene',
      preservatives: ['sulfuric-acid'],
      volumeMl: '500',
    });
    expect([bottle?.group, ...((bottle?.alsoGroups ?? []) as string[])].toSorted()).toEqual(groups.toSorted());
  });

  it('where nitrate is in one bottle with others, the bottle is nitrate: its clock of 48 h runs out first', () => {
    const list = bottles(['chloride', 'sulfate', 'nitrate', 'alkalinity'].map((group) => ({ group })));
    expect(list.map(({ group, alsoGroups }) => [group, alsoGroups])).toEqual([
      ['nitrate', ['alkalinity', 'chloride', 'sulfate']],
    ]);
  });

  it('fluoride makes it one of plastic', () => {
    const [bottle] = bottles([{ group: 'fluoride' }, { group: 'chloride' }]);
    expect(bottle).toMatchObject({ material: 'polyethylene' });
  });

  it('are not shared where the project asks for one otherwise, where another laboratory gets it, or where one is filtered', () => {
    expect(bottles([{ group: 'ammonia', volumeMl: '250', ...OTHERWISE }, { group: 'phosphorus-total' }])).toHaveLength(
      2,
    );
    const two = [
      { group: 'ammonia', laboratory: idOf('lab-1') },
      { group: 'phosphorus-total', laboratory: idOf('lab-2') },
    ];
    expect(bottles(two, {}, 2)).toHaveLength(2);
    expect(bottles([{ group: 'ammonia', filtered: true }, { group: 'phosphorus-total' }])).toHaveLength(2);
  });

  it('are as the project asks, in count, kind, material and preservatives', () => {
    const asked = { containers: 2, material: 'hdpe', preservatives: ['other'], volumeMl: '60', ...OTHERWISE };
    expect(bottles([{ group: 'chloride', ...asked }])).toMatchObject(
      Array(2).fill({ group: 'chloride', material: 'hdpe', preservatives: ['other'], volumeMl: '60' }),
    );
  });

  it('are labelled in the order in which they are filled, PFAS first or after volatiles', () => {
    const groups = ['metals-total', 'pfas-1633', 'volatiles'].map((group) => ({ group }));
    const order = (sampling?: Record<string, unknown>) => [
      ...new Set(bottles(groups, sampling).map(({ group }) => group)),
    ];
    expect(order()).toEqual(['pfas-1633', 'volatiles', 'metals-total']);
    expect(order({ pfas: 'after-volatiles' })).toEqual(['volatiles', 'pfas-1633', 'metals-total']);
  });

  it('of a group that two suites name are there once', () => {
    expect(short(bottles([{ group: 'metals-total' }, { group: 'metals-total' }]))).toHaveLength(1);
  });
});

describe('what cannot be planned', () => {
  it('names a suite that is not there and what to do', () => {
    const round = new TestRound({ wells: 1, suites: ['VOC', 'Dioxin'] });
    const [problem, ...others] = round.propose().problems;
    expect(others).toEqual([]);
    expect(problem).toBe(
      'The suite "Dioxin", named at well W-001, is not there: record an analyte suite of that name (POST /v1/analyte-suites), or correct the name in the assignment or in the plan of the event.',
    );
  });

  it('names a group that the catalog does not hold, and a laboratory that is not there', () => {
    const round = new TestRound({
      wells: 1,
      sampling: { laboratoryOf: [{ suite: 'VOC', laboratory: idOf('lab-9') }] },
    });
    round.put('analyte-suite', idOf('suite VOC'), { name: 'VOC', groups: [{ group: 'volatile-things' }] });
    const problems = round.propose().problems.join('\n');
    expect(problems).toContain('The suite "VOC" names no group that the catalog of this release holds: change it');
    expect(problems).toContain(`names the laboratory ${idOf('lab-9')}, which is not there`);
  });

  it('says at which well nothing is planned', () => {
    const round = new TestRound({ wells: 1 });
    round.well(2, []);
    round.well(3, ['VOC'], 1, { standing: 'decommissioned' });
    const { notes } = round.propose();
    expect(notes).toEqual([
      'Nothing is planned at well W-002: name suites in its assignment or in the plan of the event.',
      'Well W-003 is decommissioned: nothing is planned there.',
    ]);
  });

  it('takes the suites of the plan before those of the assignments, and those of a well before both', () => {
    const sampling = { suites: ['Metals'], wells: [{ well: idOf('W-002'), suites: ['PFAS'] }] };
    const round = new TestRound({ wells: 2, sampling });
    round.plan();
    expect(round.planned('normal').map(({ fields }) => fields.suites)).toEqual([['Metals'], ['PFAS']]);
  });
});

describe('links', () => {
  function faults(more: object, of: 'first' | 'blank' | 'none' = 'first'): readonly string[] {
    const round = new TestRound({ wells: 2, suites: ['VOC'] });
    const first = round.sample(1);
    round.put('blank', idOf('blank'), {
      event: round.event,
      type: 'field',
      number: 'F-1',
      collected: '2026-05-04T08:00:00-05:00',
      suites: ['VOC'],
    });
    const ids = { first, blank: idOf('blank'), none: idOf('nothing') };
    round.put('sample', idOf('second'), {
      visit: idOf(`visit W-001`),
      number: 'S-9',
      suites: ['VOC'],
      collected: '2026-05-04T10:40:00-05:00',
      type: 'resample',
      of: ids[of],
      ...more,
    });
    return linkFaults(round.facts().samples);
  }

  it('that make sense are not asked about', () => {
    for (const type of ['resample', 'duplicate', 'split', 'matrix-spike']) expect(faults({ type })).toEqual([]);
  });

  it.each([
    [{ suites: ['VOC', 'Metals'] }, 'has Metals, which its first sample S-1 has not'],
    [{ collected: '2026-05-04T10:20:00-05:00' }, 'was taken before its first sample S-1'],
    [{ of: idOf('second') }, 'names itself as its first sample'],
  ])('that do not are named: %o', (more, said) => {
    expect(faults(more)).toEqual([expect.stringContaining(said)]);
  });

  it('to a blank or to nothing are named', () => {
    expect(faults({ type: 'matrix-spike' }, 'blank')).toEqual([
      'Sample S-9, a matrix spike, is of the blank F-1: name a sample of a well.',
    ]);
    expect(faults({}, 'none')).toEqual([expect.stringContaining('is not among those of the event')]);
  });

  it('to a sample of another well, to one that is itself of another, and a split to the same laboratory', () => {
    const round = new TestRound({ wells: 2, suites: ['VOC'] });
    const first = round.sample(1, { laboratory: idOf('lab-1') });
    const second = round.sample(2, { type: 'duplicate', of: first });
    const split = { number: 'S-3', type: 'split', laboratory: idOf('lab-1'), of: first };
    round.put('sample', idOf('third'), { ...(round.states.get(first)?.fields ?? {}), ...split });
    round.put('sample', idOf('fourth'), {
      ...(round.states.get(second)?.fields ?? {}),
      number: 'S-4',
      of: idOf('third'),
    });
    const said = linkFaults(round.facts().samples).join('\n');
    expect(said).toContain('is of well W-002, its first sample S-1 of W-001');
    expect(said).toContain('Sample S-4, a duplicate, is of S-3, which is itself of another');
    expect(said).toContain('goes to the same laboratory as its first sample S-1');
  });
});
