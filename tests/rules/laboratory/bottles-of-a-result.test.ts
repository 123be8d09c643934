import { describe, expect, it } from 'vitest';
import { judgeResults } from '../../../src/rules/laboratory/results/judge-results.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const AT = '2026-05-04T10:00:00-05:00';
const FIRST = '2026-05-05T09:00:00-05:00';
const SECOND = '2026-05-06T09:00:00-05:00';
const by = (at: string) => ({ at, entered: at, captured: 'same-day', readBy: idOf('ann'), writtenBy: idOf('ann') });

const item = (label: string, condition: string) => ({ label, condition });
const receipt = (cooler: string, received: string, items: readonly object[], more: object = {}) =>
  ({ event: 'event-1', cooler, laboratory: 'lab-1', received, observed: by(received), items, ...more }) as const;

/** A sample with a bottle for ions in each of two coolers, and a trip blank in the first. */
function world(more: { readonly second?: object; readonly bottle?: object } = {}): SamplesWorld {
  const cooler = { event: 'event-1', laboratory: 'lab-1', packed: AT };
  return new SamplesWorld()
    .laboratory()
    .laboratory('lab-2')
    .suite('ions', [{ group: 'nitrate' }])
    .sampled('W-1', ['ions'], AT)
    .add('blank', 'tb', { event: 'event-1', number: 'TB-1', type: 'trip', suites: ['ions'], collected: AT })
    .add('cooler', 'c-1', { ...cooler, number: 'C1' })
    .add('cooler', 'c-2', { ...cooler, number: 'C2', ...more.second })
    .bottle('I-1', 'nitrate', { sample: 'sample-W-1', suite: 'ions', cooler: 'c-1' })
    .bottle('I-2', 'nitrate', { sample: 'sample-W-1', suite: 'ions', cooler: 'c-2', ...more.bottle })
    .bottle('T-1', 'nitrate', { blank: 'tb', suite: 'ions', cooler: 'c-1' });
}

/** The notes on one line of results that this laboratory hands in. */
function notes(of: SamplesWorld, cells: readonly string[], laboratory: string | null = idOf('lab-1')) {
  const samples = of.samples();
  const all = [...samples.samples, ...samples.blanks];
  const named = new Map(all.map((one) => [one.fields.number, [one]]));
  const head = ['sampleNumber', 'analyte', 'value', 'unit', 'analyzed'];
  const file = [head, cells].map((one, at) => ({ line: at + 1, cells: one }));
  const observed = { ...by('2026-05-20T00:00:00Z'), captured: 'same-day' } as const;
  const firm = '11111111-1111-4111-8111-111111111111';
  const judged = judgeResults(file, { of: samples, named, laboratory, firm, observed });
  expect(judged.problems).toEqual([]);
  return judged.notes.map(({ note }) => note);
}

const sulfate = (number = 'S-W-1', analyzed = '2026-05-10T00:00:00Z') => [number, 'Sulfate', '12', 'mg/L', analyzed];
const broken = (label: string) => [item(label, 'broken')];

describe('a result is asked about for its bottles', () => {
  const asked = [expect.stringContaining('I-1 came broken')];

  it('where none of them was there whole, and not where one of two was', () => {
    const one = world().add('sample-receipt', 'r-1', receipt('c-1', FIRST, broken('I-1')));
    expect(notes(one, sulfate())).toEqual([]);
    one.add('sample-receipt', 'r-2', receipt('c-2', FIRST, broken('I-2')));
    expect(notes(one, sulfate())).toEqual([expect.stringContaining('I-1 came broken, I-2 came broken')]);
  });

  it('whatever another laboratory has of the sample, or is still to be filled', () => {
    for (const more of [{ second: { laboratory: 'lab-2' } }, { bottle: { standing: 'expected' } }]) {
      const of = world(more).add('sample-receipt', 'r-1', receipt('c-1', FIRST, broken('I-1')));
      expect(notes(of, sulfate())).toEqual(asked);
    }
  });

  it('of a blank as well', () => {
    const of = world().add('sample-receipt', 'r-1', receipt('c-1', FIRST, broken('T-1')));
    expect(notes(of, sulfate('TB-1'))).toContainEqual(expect.stringContaining('T-1 came broken'));
  });

  it('by the receipts of who reports it, and by all of them for the office', () => {
    const of = world({ bottle: { standing: 'dropped' } });
    of.add('sample-receipt', 'r-1', receipt('c-1', FIRST, broken('I-1'), { laboratory: 'lab-2' }));
    expect(notes(of, sulfate())).toEqual([]);
    expect(notes(of, sulfate(), null)).toEqual(asked);
  });
});

describe('a sample came to a laboratory', () => {
  const between = sulfate('S-W-1', '2026-05-05T12:00:00-05:00');
  const early = expect.stringContaining(`before it was received (${SECOND})`);
  const came = (items: readonly object[]) =>
    world()
      .add('sample-receipt', 'r-1', receipt('c-1', FIRST, items))
      .add('sample-receipt', 'r-2', receipt('c-2', SECOND, []));

  it('with the first of its bottles that came', () => {
    expect(notes(came([]), between)).toEqual([]);
    expect(notes(came([item('I-1', 'missing')]), between)).toEqual([early]);
  });
});

it.each([
  ['-0.1', 'mg/L', 1],
  ['-0.1', 'µg/L', 1],
  ['-0.1', '\u03bcg/L', 1],
  ['-0.1', 'ng/L', 1],
  ['0', 'ug/L', 0],
  ['0.0', 'mg/L', 0],
])('%s %s has so many notes that it is below zero: %i', (value, unit, count) => {
  const said = notes(world(), ['S-W-1', 'Sulfate', value, unit, '']);
  expect(said.filter((note) => note.includes('below zero'))).toHaveLength(count);
});
