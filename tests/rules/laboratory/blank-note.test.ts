import { describe, expect, it } from 'vitest';
import { judgeResults } from '../../../src/rules/laboratory/results/judge-results.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const AT = '2026-05-04T10:00:00-05:00';
const HEAD = ['sampleNumber', 'analyte', 'value', 'unit', 'reportingLimit', 'qualifiers'];

/**
 * The notes on one line of results of a blank of this type; S-W-3 is in another cooler, S-W-2 for other suites, of S-W-4
 * only the metals are beside it, and of S-W-5 what was thrown away.
 */
function notes(type: string, cells: readonly string[], knows = (_number: string) => true): readonly string[] {
  const cooler = { event: 'event-1', laboratory: 'lab-1', packed: AT };
  const world = new SamplesWorld()
    .laboratory()
    .suite('VOC', [{ group: 'volatiles' }])
    .suite('ions', [{ group: 'nitrate' }])
    .sampled('W-1', ['VOC'], AT)
    .sampled('W-2', ['ions'], AT)
    .sampled('W-3', ['VOC'], AT)
    .sampled('W-4', ['VOC', 'metals'], AT)
    .sampled('W-5', ['VOC'], AT)
    .add('blank', 'tb', { event: 'event-1', number: 'TB-1', type, suites: ['VOC'], collected: AT })
    .add('cooler', 'c-1', { ...cooler, number: 'C1' })
    .add('cooler', 'c-2', { ...cooler, number: 'C2' })
    .bottle('V-1', 'volatiles', { sample: 'sample-W-1', suite: 'VOC', cooler: 'c-1' })
    .bottle('N-1', 'nitrate', { sample: 'sample-W-2', suite: 'ions', cooler: 'c-1' })
    .bottle('V-3', 'volatiles', { sample: 'sample-W-3', suite: 'VOC', cooler: 'c-2' })
    .bottle('M-4', 'metals-total', { sample: 'sample-W-4', suite: 'metals', cooler: 'c-1' })
    .bottle('V-4', 'volatiles', { sample: 'sample-W-4', suite: 'VOC', cooler: 'c-2' })
    .bottle('V-5', 'volatiles', { sample: 'sample-W-5', suite: 'VOC', cooler: 'c-1', standing: 'discarded' })
    .bottle('T-1', 'volatiles', { blank: 'tb', suite: 'VOC', cooler: 'c-1' });
  const of = world.samples();
  const [blank] = of.blanks;
  if (!blank) throw new Error('the world has no blank');
  const file = [HEAD, ['TB-1', ...cells]].map((one, at) => ({ line: at + 1, cells: one }));
  const person = idOf('ann');
  const observed = {
    at: '2026-05-20T00:00:00Z',
    entered: '2026-05-20T00:00:00Z',
    captured: 'same-day',
    readBy: person,
    writtenBy: person,
  } as const;
  const firm = '11111111-1111-4111-8111-111111111111';
  const named = new Map<string, (typeof of.samples)[number][] | [typeof blank]>([
    ...of.samples.flatMap((one): [string, (typeof one)[]][] =>
      knows(one.fields.number) ? [[one.fields.number, [one]]] : [],
    ),
    ['TB-1', [blank]],
  ]);
  const judged = judgeResults(file, { of, firm, laboratory: null, named, observed });
  expect([judged.problems, judged.fresh.length]).toEqual([[], 1]);
  return judged.notes.map(({ note }) => note);
}

describe('something found in a blank', () => {
  const found = ['Benzene', '1.2', 'ug/L', '0.5', ''];

  it('of the way questions the samples of its suites that travelled with it, and names them', () => {
    expect(notes('trip', found)).toEqual([
      'Benzene was found in the trip blank TB-1: it questions what travelled with it, S-W-1',
    ]);
  });

  it('names no sample that whoever hands it in is not told of', () => {
    expect(notes('trip', found, (number) => number !== 'S-W-1')).toEqual([
      'Benzene was found in the trip blank TB-1; no sample of its suites is known to have travelled with it',
    ]);
  });

  it('questions nothing below its reporting limit, or where it was not found, or in a blank of another type', () => {
    expect(notes('trip', ['Benzene', '0.2', 'ug/L', '0.5', 'J'])).toEqual([]);
    expect(notes('trip', ['Benzene', '', 'ug/L', '0.5', 'U'])).toEqual([]);
    expect(notes('field', found)).toEqual([]);
  });
});
