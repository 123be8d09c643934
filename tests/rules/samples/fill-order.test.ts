import { describe, expect, it } from 'vitest';
import type { RecordState } from '../../../src/protocol/record.ts';
import { vectorInstant } from '../../../src/rules/flags/vector-bundle.ts';
import { vectorId } from '../../../src/rules/flags/vector-ids.ts';
import { fillOrderOutput, fillOrderTold } from '../../../src/rules/samples/fill-order/fill-order-told.ts';
import { fillRecords } from '../../../src/rules/samples/fill-order/fill-records.ts';
import type { SampleGiven } from '../../../src/rules/samples/fill-rules/sample-rule.ts';
import { vectorSampleRecords } from '../../../src/rules/samples/fill-rules/vector-facts.ts';
import { shortWaterOutput, shortWaterTold } from '../../../src/rules/samples/short-water/short-water-told.ts';

const EXPECTED = { standing: 'expected', fill: null } as const;
const SVOC = { group: 'semivolatiles', suite: 'SVOC', type: 'bottle', colour: 'amber', volumeMl: '1000' } as const;
const METALS = { group: 'metals-total', suite: 'Metals', type: 'bottle', material: 'hdpe', volumeMl: '500' } as const;
const SULFATE = { group: 'sulfate', suite: 'Ions', type: 'bottle', material: 'hdpe', volumeMl: '250' } as const;
const vial = (more: object = {}) => ({ ...EXPECTED, ...more });

function state(kind: string, id: number, fields: object): RecordState {
  const nobody = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  return { kind, id: vectorId(id), rev: 1, ...nobody, fields: { ...fields } };
}

function recordsOf(given: SampleGiven, more: readonly RecordState[] = []) {
  const { visit, plan, ...lists } = vectorSampleRecords(given);
  if (visit === null) throw new Error('a case without a visit');
  const event = { ...state('event', 1, { plan: { criteria: 'c', ...(plan ? { sampling: plan } : {}) } }) };
  const states = Object.values(lists).flat() as unknown as RecordState[];
  return fillRecords(visit as unknown as RecordState, [event, ...states, ...more]);
}

const bottles = [
  { ...EXPECTED, ...SULFATE },
  { ...EXPECTED, ...METALS },
  { ...EXPECTED, ...SVOC },
  { ...EXPECTED, ...SVOC },
  vial(),
  vial(),
  vial(),
];

describe('the order to fill', () => {
  it('goes by the order of the plan, names what is next and tells the time at the present rate', () => {
    const flow = state('reading', 0x900, {
      purge: vectorId(8),
      flowMlPerMin: '200',
      observed: { at: vectorInstant('10:25') },
    });
    const told = fillOrderTold(recordsOf({ containers: bottles }, [flow]), {});
    expect(fillOrderOutput.parse(told)).toEqual(told);
    expect(told.containers.map(({ group }) => group)).toEqual([
      ...Array(3).fill('volatiles'),
      ...Array(2).fill('semivolatiles'),
      'metals-total',
      'sulfate',
    ]);
    expect(told.containers.map(({ state }) => state)).toEqual(['next', ...Array(6).fill('waiting')]);
    expect(told).toMatchObject({ flowMlPerMin: '200', waitingMl: '2870', waitingCount: 7, called: 'stable' });
    // a vial at no more than 100 mL/min takes 24 s, the litre at 200 takes 300 s
    expect(told.containers[0]).toMatchObject({ atMostMlPerMin: '100', fillAtMlPerMin: '100', fillS: '24' });
    expect(told.containers[3]).toMatchObject({ fillAtMlPerMin: '200', fillS: '300', filtered: false, cellOff: true });
    expect(told.waitingS).toBe(String(3 * 24 + 2 * 300 + 150 + 75));
  });

  it('tells what is full, thrown away and left out, and asks for no time where no rate is known', () => {
    const containers = [{ at: '10:36' }, vial(), vial({ standing: 'dropped' }), { standing: 'discarded' as const }];
    const told = fillOrderTold(recordsOf({ containers }), {});
    expect(told.containers.map(({ state }) => state).toSorted()).toEqual(['discarded', 'dropped', 'filled', 'next']);
    expect(told).toMatchObject({ filledCount: 1, waitingCount: 1, waitingS: null, flowMlPerMin: null });
    expect(told.next).toBe(vectorId(0x5001));
    expect(fillOrderTold(recordsOf({ containers }), { flowMlPerMin: '0' }).flowMlPerMin).toBeNull();
  });

  it('says that nobody called, and that a passive sampler needs no call', () => {
    const uncalled = { calls: [], containers: [vial()] };
    expect(fillOrderTold(recordsOf(uncalled), {})).toMatchObject({ mayFill: false, called: null });
    const passive = { ...uncalled, visit: { method: 'passive' as const } };
    expect(fillOrderTold(recordsOf(passive), {})).toMatchObject({ mayFill: true, containers: [{ cellOff: false }] });
  });

  it('tells to make up a time for the labels of a blind duplicate that has none', () => {
    const blind = { type: 'blind-duplicate', of: vectorId(0x400) } as const;
    const cautions = (more: object) =>
      fillOrderTold(
        recordsOf({ samples: [{}, { ...blind, ...more }], containers: [vial(), vial({ of: 1 })] }),
        {},
      ).cautions.filter((one) => one.includes('blind'));
    expect(cautions({})).toEqual([
      "W-102 is a blind duplicate, and no time was made up for its labels: do not write when it was filled, which shows its parent. Make one up among the times of other samples, that is not its parent's and not later than it was filled; write it on the labels and record it as laboratoryTime of the sample.",
    ]);
    expect(cautions({ laboratoryTime: vectorInstant('10:05') })).toEqual([]);
    const planned = vectorId(0x900);
    const taken = { ...blind, planned, laboratoryTime: vectorInstant('10:05') };
    const waits = { samples: [{}, taken], planned: [blind], containers: [vial({ of: null, planned })] };
    expect(fillOrderTold(recordsOf(waits), {}).cautions.join(' ')).not.toContain('blind');
  });

  it('takes what is planned at the well before any sample is taken, and bottles of both in turn after that', () => {
    const planned = state('planned-sample', 0x800, {
      event: vectorId(1),
      number: 'W-102',
      type: 'duplicate',
      well: vectorId(6),
      suites: ['VOC'],
      standing: 'planned',
    });
    const given: SampleGiven = {
      containers: [vial({ of: null, planned: vectorId(0x800), label: 'W-102-1' }), vial(), { ...EXPECTED, ...METALS }],
    };
    const told = fillOrderTold(recordsOf(given, [planned]), {});
    expect(told.containers.map(({ number, sampleType }) => [number, sampleType])).toEqual([
      ['W-101', 'normal'],
      ['W-102', 'duplicate'],
      ['W-101', 'normal'],
    ]);
    // what nobody planned here, and what was taken elsewhere, is not filled here
    expect(fillOrderTold(recordsOf(given), {}).containers).toHaveLength(2);
  });
});

describe('a bottle that serves several groups', () => {
  const shared = (group: string, ...alsoGroups: string[]) =>
    ({
      ...EXPECTED,
      group,
      alsoGroups,
      suite: 'Ions',
      type: 'bottle',
      volumeMl: '500',
      preservatives: undefined,
    }) as const;
  const told = (group: string, ...also: string[]) =>
    fillOrderTold(recordsOf({ containers: [shared(group, ...also)] }), {}).containers[0];

  it('is filtered where one of them is, whichever stands first', () => {
    expect(told('sulfate')).toMatchObject({ filtered: null, poreUm: null });
    expect(told('sulfate', 'orthophosphate')).toMatchObject({ filtered: true, poreUm: '0.45' });
  });

  it('is told neither filtered nor not where its groups contradict each other', () => {
    expect(told('hardness')).toMatchObject({ filtered: false });
    expect(told('hardness', 'metals-dissolved')).toMatchObject({ filtered: null, poreUm: null });
  });

  it('has no air where one of them must have none', () => {
    expect(told('sulfate')).toMatchObject({ headspace: 'no-overflow' });
    expect(told('sulfate', 'alkalinity')).toMatchObject({ headspace: 'none' });
  });

  it('has what all of them may have in it', () => {
    expect(told('hardness')).toMatchObject({ preservatives: ['nitric-acid'] });
    expect(told('hardness', 'ammonia')).toMatchObject({ preservatives: ['sulfuric-acid'] });
  });

  it('needs the least volumes of all of them together', () => {
    const least = (...groups: [string, ...string[]]) =>
      Number(shortWaterTold(recordsOf({ containers: [shared(...groups)] }), {}).containers[0]?.leastVolumeMl);
    expect(least('sulfate')).toBeGreaterThan(0);
    expect(least('sulfate', 'alkalinity')).toBe(least('sulfate') + least('alkalinity'));
  });
});

describe('with less water than the containers take', () => {
  it('fills the most important first, each with the least that gives a result, and says what is dropped', () => {
    const told = shortWaterTold(recordsOf({ containers: bottles }), { availableMl: '900' });
    expect(shortWaterOutput.parse(told)).toEqual(told);
    expect(told).toMatchObject({ neededMl: '2870', availableMl: '900', filledMl: '870', leftMl: '30' });
    const filled = told.containers.filter(({ fill }) => fill);
    expect(filled.map(({ group, volumeMl }) => `${group} ${volumeMl}`)).toEqual([
      ...Array(3).fill('volatiles 40'),
      'metals-total 500',
      'sulfate 250',
    ]);
    expect(told.containers.filter(({ fill }) => !fill).map(({ group }) => group)).toEqual(
      Array(2).fill('semivolatiles'),
    );
    expect(told.whoAgrees).toContain('Whoever ordered');
  });

  it('gives volatiles the first claim on the water, also where PFAS are filled first, and says that it lists as filled', () => {
    const pfas = {
      group: 'pfas-1633',
      suite: 'PFAS',
      type: 'bottle',
      volumeMl: '250',
      standing: 'expected',
      fill: null,
    } as const;
    const vials = [vial(), vial(), vial()];
    const of = (availableMl: string) => shortWaterTold(recordsOf({ containers: [pfas, ...vials] }), { availableMl });
    const enough = of('370');
    expect(enough.containers.map(({ group, turn }) => `${group} ${turn}`)).toEqual([
      'pfas-1633 2',
      ...Array(3).fill('volatiles 1'),
    ]);
    expect(enough.reasons.join(' ')).toContain('fill by the turns');
    const short = of('120');
    expect(short.containers.map(({ group, fill }) => `${group} ${fill}`)).toEqual([
      ...Array(3).fill('volatiles true'),
      'pfas-1633 false',
    ]);
    expect(short.reasons.join(' ')).not.toContain('fill by the turns');
  });

  it('goes by the priority that a suite says', () => {
    const suite = state('analyte-suite', 0x71, { name: 'SVOC', groups: [{ group: 'semivolatiles' }], priority: 1 });
    const told = shortWaterTold(recordsOf({ containers: bottles }, [suite]), { availableMl: '1100' });
    const filled = told.containers.filter(({ fill }) => fill).map(({ group, volumeMl }) => `${group} ${volumeMl}`);
    // 60 mL are left then: less than metals need, enough for sulfate
    expect(filled).toEqual(['volatiles 40', 'semivolatiles 1000', 'sulfate 60']);
  });

  it('counts what is full already, and fills a duplicate after its parent', () => {
    const containers = [{}, vial(), vial({ of: 1 }), vial({ of: 1 })];
    const samples = [{}, { type: 'duplicate' as const, of: vectorId(0x400) }];
    const told = shortWaterTold(recordsOf({ samples, containers }), { availableMl: '40' });
    // the parent has its one vial: what gives the duplicate a result comes before a second one of the parent
    expect(told.containers.filter(({ fill }) => fill).map(({ number }) => number)).toEqual(['W-102']);
  });

  it('counts the full bottles of a sample for those that wait for it under its plan alone', () => {
    const pfas = { group: 'pfas-1633', suite: 'PFAS', type: 'bottle', volumeMl: '250' } as const;
    const planned = vectorId(0x900);
    const containers = [
      { ...pfas, planned },
      { ...EXPECTED, ...pfas, planned, of: null },
      { ...EXPECTED, ...METALS, planned, of: null },
    ];
    const told = shortWaterTold(recordsOf({ planned: [{}], samples: [{ planned }], containers }), {
      availableMl: '300',
    });
    // one bottle of PFAS gives a result: metals come before the second one
    expect(told.containers.map(({ group, turn, fill, leastCount }) => [group, turn, fill, leastCount])).toEqual([
      ['metals-total', 1, true, 1],
      ['pfas-1633', 2, false, 0],
    ]);
  });

  it('gives a matrix spike what is left when the samples are whole, and never one bottle of it alone', () => {
    const pfas = { ...EXPECTED, group: 'pfas-1633', suite: 'PFAS', type: 'bottle', volumeMl: '250' } as const;
    const samples = [{}, { type: 'matrix-spike' as const, of: vectorId(0x400) }];
    const spike = { ...pfas, of: 1 };
    const containers = [pfas, pfas, spike, spike, spike, spike];
    const filled = (availableMl: string) =>
      shortWaterTold(recordsOf({ samples, containers }), { availableMl })
        .containers.filter(({ fill }) => fill)
        .map(({ number }) => number);
    expect(filled('500')).toEqual(['W-101', 'W-101']);
    expect(filled('750')).toEqual(['W-101', 'W-101']);
    expect(filled('1000')).toEqual(['W-101', 'W-101', 'W-102', 'W-102']);
    expect(filled('1500')).toHaveLength(6);
  });

  it('does not count a vial with a bubble in it', () => {
    const samples = [{}, { type: 'duplicate' as const, of: vectorId(0x400) }];
    const containers = [{ fill: { bubble: true } }, vial(), vial({ of: 1 })];
    const told = shortWaterTold(recordsOf({ samples, containers }), { availableMl: '40' });
    expect(told.containers.filter(({ fill }) => fill).map(({ number }) => number)).toEqual(['W-101']);
    expect(told.reasons[0]).toBe(
      'With 40 mL of the 80 mL needed 40 mL are filled. Whole: Volatile organic compounds, acidified of W-101. Dropped: Volatile organic compounds, acidified of W-102.',
    );
  });

  it('has nothing to say where nothing waits, and drops nothing where it does for all', () => {
    expect(shortWaterTold(recordsOf({}), { availableMl: '900' })).toMatchObject({ containers: [], whoAgrees: null });
    const enough = shortWaterTold(recordsOf({ containers: bottles }), { availableMl: '2870' });
    expect(enough.containers.every(({ fill }) => fill)).toBe(true);
    expect(enough.whoAgrees).toBeNull();
    expect(shortWaterTold(recordsOf({ containers: bottles }), {})).toEqual(enough);
  });

  it.each([0, 39, 40, 120, 500, 1234, 2869, 5000])('never fills more than there is: %i mL', (availableMl) => {
    const told = shortWaterTold(recordsOf({ containers: bottles }), { availableMl: String(availableMl) });
    const sum = told.containers.reduce((all, { volumeMl }) => all + Number(volumeMl), 0);
    expect(sum).toBe(Number(told.filledMl));
    expect(sum).toBeLessThanOrEqual(availableMl);
    for (const { fill, volumeMl, leastVolumeMl } of told.containers)
      if (fill) expect(Number(volumeMl)).toBeGreaterThanOrEqual(Number(leastVolumeMl));
  });
});
