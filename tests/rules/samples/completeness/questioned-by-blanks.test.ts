import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { completenessTold } from '../../../../src/rules/samples/completeness/completeness-told.ts';
import { idOf, SamplesWorld } from '../samples-world.ts';

type Fields = Readonly<Record<string, unknown>>;
type Said = (world: SamplesWorld) => SamplesWorld;

const AT = '2026-05-04T10:00:00-05:00';
const NEXT_DAY = '2026-05-05T10:00:00-05:00';

const questioned = (of: SamplesWorld) => completenessTold(of.samples(), { show: 'lacking' }).questionedByBlanks;

/** The sentence of each finding with the samples in question, by their numbers. */
function said(of: SamplesWorld) {
  return questioned(of).map(({ sentence, samples }) => [
    sentence,
    samples.filter(({ standing }) => standing === 'in-question').map(({ number }) => number),
  ]);
}

function found(of: 'sample' | 'blank', name: string, value: string | null, more: Fields = {}): Said {
  const condition = value === null ? 'not-detected' : 'detected';
  const id = `result of ${name} ${JSON.stringify(more)}`;
  const plain = { event: 'event-1', [of]: name, analyte: 'Benzene', unit: 'ug/L', reportingLimit: '0.5', condition };
  return (world) => world.add('laboratory-result', id, { ...plain, ...(value === null ? {} : { value }), ...more });
}

/** Volatiles of W-1 and W-2 with the blank, of W-2 only its metals; those of W-3 in another cooler. */
function travelling(): SamplesWorld {
  const world = new SamplesWorld()
    .suite('VOC', [{ group: 'volatiles' }])
    .suite('metals', [{ group: 'metals-total' }])
    .sampled('W-1', ['VOC'], AT)
    .sampled('W-2', ['VOC', 'metals'], AT)
    .sampled('W-3', ['VOC'], AT)
    .sampled('W-4', ['VOC'], AT)
    .add('blank', 'tb', { event: 'event-1', number: 'TB-1', type: 'trip', suites: ['VOC'], collected: AT });
  for (const cooler of ['c-1', 'c-2']) world.add('cooler', cooler, { event: 'event-1', number: cooler });
  return world
    .bottle('T-1', 'volatiles', { blank: 'tb', suite: 'VOC', cooler: 'c-1' })
    .bottle('V-1', 'volatiles', { sample: 'sample-W-1', suite: 'VOC', cooler: 'c-1' })
    .bottle('M-2', 'metals-total', { sample: 'sample-W-2', suite: 'metals', cooler: 'c-1' })
    .bottle('V-2', 'volatiles', { sample: 'sample-W-2', suite: 'VOC', cooler: 'c-2' })
    .bottle('V-3', 'volatiles', { sample: 'sample-W-3', suite: 'VOC', cooler: 'c-2' })
    .bottle('V-4', 'volatiles', { sample: 'sample-W-4', suite: 'VOC', cooler: 'c-1' });
}

const OF_TRIP: readonly Said[] = [
  found('blank', 'tb', '0.8'),
  found('sample', 'sample-W-1', '4.0'),
  found('sample', 'sample-W-3', '1.0'),
  found('sample', 'sample-W-4', '4.1'),
];

const all = (world: SamplesWorld, steps: readonly Said[]) => steps.reduce((before, step) => step(before), world);

/** A field blank of the day, of a crew where it was planned for one; crew-2 was at W-2, and W-3 is of the day after. */
function inTheField(plan: Fields = {}, crew?: string, suites: readonly string[] = ['VOC']): SamplesWorld {
  const world = new SamplesWorld('America/Chicago', plan)
    .suite('VOC', [{ group: 'volatiles' }])
    .suite('PFAS', [{ group: 'pfas-1633' }])
    .suite('metals', [{ group: 'metals-total' }])
    .sampled('W-1', suites, AT)
    .sampled('W-3', suites, NEXT_DAY)
    .sampled('W-4', ['metals'], AT)
    .add('visit', 'visit-2', { event: 'event-1', well: 'W-1', crew: 'crew-2', method: 'low-flow', arrived: AT })
    .add('sample', 'sample-W-2', { visit: 'visit-2', number: 'S-W-2', suites, collected: AT });
  const planned = { event: 'event-1', number: 'FB-1', type: 'field-blank', suites, standing: 'planned' };
  if (crew !== undefined) world.add('planned-sample', 'p-1', { ...planned, crew });
  const blank = { event: 'event-1', number: 'FB-1', type: 'field', suites, collected: AT };
  world.add('blank', 'fb', crew === undefined ? blank : { ...blank, planned: 'p-1' });
  return all(world, [
    found('blank', 'fb', '0.8'),
    ...['W-1', 'W-2', 'W-3'].map((well) => found('sample', `sample-${well}`, '1.0')),
  ]);
}

describe('what was found in a trip blank', () => {
  it('questions the samples with a bottle for the same in its cooler, each judged by it', () => {
    expect(said(all(travelling(), OF_TRIP))).toEqual([
      [
        'Benzene was found in the trip blank TB-1 (0.8 µg/L): of 2 samples in its cooler 1 in question, 1 cleared.',
        ['S-W-1'],
      ],
    ]);
    const [one] = questioned(all(travelling(), OF_TRIP));
    expect(one).toMatchObject({ inQuestion: 1, cleared: 1, cannotTell: 0, leftOut: 0, verified: true });
    expect(one?.samples[0]?.sentence).toContain("5 times the blank's 0.8 µg/L");
    expect(one?.source).toContain('Data Validation Guidelines');
  });

  it('is judged by the rule that the plan names', () => {
    const plan = { criteria: 'epa-region-1-low-stress-rev-4', equipment: { blankRule: 'national-guidelines-older' } };
    const blank = { event: 'event-1', number: 'TB-1', type: 'trip', suites: ['VOC'], collected: AT };
    const acetone = { analyte: 'Acetone', casNumber: '67-64-1' };
    const world = new SamplesWorld('America/Chicago', {}, { plan })
      .sampled('W-1', ['VOC'], AT)
      .add('blank', 'tb', blank)
      .bottle('T-1', 'volatiles', { blank: 'tb', cooler: 'c-1' })
      .bottle('V-1', 'volatiles', { sample: 'sample-W-1', cooler: 'c-1' });
    const steps = [found('blank', 'tb', '1', acetone), found('sample', 'sample-W-1', '9', acetone)];
    expect(questioned(all(world, steps))).toMatchObject([{ inQuestion: 1, verified: false }]);
  });

  it('is the same in whatever order the records come', () => {
    const expected = questioned(all(travelling(), OF_TRIP));
    fc.assert(
      fc.property(fc.shuffledSubarray([...OF_TRIP], { minLength: OF_TRIP.length }), (steps) => {
        expect(questioned(all(travelling(), steps))).toEqual(expected);
      }),
      { numRuns: 24 },
    );
  });

  it('questions a sample of which the laboratory said nothing yet, as one that cannot be told', () => {
    expect(questioned(all(travelling(), OF_TRIP.slice(0, 1)))).toMatchObject([{ cannotTell: 2, inQuestion: 0 }]);
  });

  it('questions nothing below the reporting limit, where nothing was found, or where the result was taken back', () => {
    const traces = found('blank', 'tb', '0.2', { condition: 'below-reporting-limit' });
    expect(questioned(traces(travelling()))).toEqual([]);
    expect(questioned(found('blank', 'tb', null)(travelling()))).toEqual([]);
    const result = {
      event: 'event-1',
      blank: 'tb',
      analyte: 'Benzene',
      unit: 'ug/L',
      value: '1',
      condition: 'detected',
    };
    const voided = { voided: { reason: 'of another report', by: null } };
    expect(questioned(travelling().add('laboratory-result', 'x', result, voided))).toEqual([]);
  });

  it('questions nothing whose bottle was thrown away, or is not to be filled', () => {
    const gone = (standing: string) =>
      all(travelling(), OF_TRIP.slice(0, 1))
        .sampled('W-5', ['VOC'], AT)
        .bottle('V-5', 'volatiles', { sample: 'sample-W-5', suite: 'VOC', cooler: 'c-1', standing });
    expect(questioned(gone('filled'))).toMatchObject([{ cannotTell: 3 }]);
    expect(questioned(gone('discarded'))).toMatchObject([{ cannotTell: 2 }]);
    expect(questioned(gone('dropped'))).toMatchObject([{ cannotTell: 2 }]);
  });

  it('says so where it is packed in no cooler', () => {
    const blank = { event: 'event-1', number: 'TB-2', type: 'trip', suites: ['VOC'], collected: AT };
    const world = found('blank', 'tb-2', '1')(travelling().add('blank', 'tb-2', blank));
    expect(said(world)).toEqual([
      [
        'Benzene was found in the trip blank TB-2 (1 µg/L): no sample is known that it speaks for, as it is packed in no cooler.',
        [],
      ],
    ]);
  });

  it('is told of each analyte by itself, and names blank and samples by their records', () => {
    const toluene = { analyte: 'Toluene' };
    const world = all(travelling(), [...OF_TRIP, found('blank', 'tb', '2', toluene)]);
    expect(questioned(world).map(({ analyte, blank }) => [analyte, blank])).toEqual([
      ['Benzene', idOf('tb')],
      ['Toluene', idOf('tb')],
    ]);
    expect(questioned(world)[0]?.samples.map(({ sample }) => sample)).toEqual(
      ['sample-W-1', 'sample-W-4'].map((name) => idOf(name)),
    );
  });
});

describe('what was found in a field blank', () => {
  it('questions the samples of its day that are for the same', () => {
    expect(said(inTheField())).toEqual([
      [
        'Benzene was found in the field blank FB-1 (0.8 µg/L): of 2 samples of 2026-05-04 2 in question, 0 cleared.',
        expect.toSatisfy((numbers: string[]) => numbers.toSorted().join() === 'S-W-1,S-W-2'),
      ],
    ]);
  });

  it('questions those of its crew alone where it was planned for one', () => {
    expect(said(inTheField({}, 'crew-2'))).toEqual([
      [expect.stringContaining('of 1 sample of its crew of 2026-05-04 1 in question'), ['S-W-2']],
    ]);
  });

  it('questions those of all days where one does for the event, as for PFAS where the plan says nothing', () => {
    expect(questioned(inTheField({ fieldBlanksPer: 'event' }))).toMatchObject([{ inQuestion: 3 }]);
    expect(questioned(inTheField({}, undefined, ['PFAS']))).toMatchObject([{ inQuestion: 3 }]);
    expect(questioned(inTheField({ fieldBlanksPer: 'day' }, undefined, ['PFAS']))).toMatchObject([{ inQuestion: 2 }]);
  });

  it('of several suites goes by that which orders what was found', () => {
    const [benzene, acid] = ['Benzene', 'Perfluorooctanoic acid'];
    const orders = (world: SamplesWorld) =>
      world
        .suite('B', [{ group: 'volatiles' }], { analytes: [{ name: benzene }] })
        .suite('P', [{ group: 'pfas-1633' }], { analytes: [{ name: acid }] });
    const world = found('blank', 'fb', '0.8', { analyte: acid })(orders(inTheField({}, undefined, ['B', 'P'])));
    expect(questioned(world)).toMatchObject([
      { analyte: benzene, inQuestion: 2, cannotTell: 0 },
      { analyte: acid, cannotTell: 3 },
    ]);
  });

  it('questions a sample of other suites that was analysed for it all the same', () => {
    expect(questioned(found('sample', 'sample-W-4', '1.0')(inTheField()))).toMatchObject([{ inQuestion: 3 }]);
  });
});

describe('what was found in an equipment blank', () => {
  it('is not told here, as its flag names the samples', () => {
    const blank = { event: 'event-1', number: 'EB-1', type: 'equipment', suites: ['VOC'], collected: AT };
    expect(questioned(found('blank', 'eb', '1')(travelling().add('blank', 'eb', blank)))).toEqual([]);
  });
});
