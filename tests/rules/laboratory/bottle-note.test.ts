import { describe, expect, it } from 'vitest';
import { judgeResults } from '../../../src/rules/laboratory/results/judge-results.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const AT = '2026-05-04T10:00:00-05:00';
const CAME = '2026-05-05T09:00:00-05:00';
const HEAD = ['sampleNumber', 'analyte', 'value', 'unit'];

/** The notes on one line of results, where the receipt says this of the one bottle for ions, and of that for metals. */
function notes(cells: readonly string[], items: readonly object[] = [], laboratory: string | null = idOf('lab-1')) {
  const person = idOf('ann');
  const observed = { at: '2026-05-20T00:00:00Z', entered: AT, captured: 'same-day', readBy: person, writtenBy: person };
  const cooler = { event: 'event-1', number: 'C1', laboratory: 'lab-1', packed: AT };
  const of = new SamplesWorld()
    .laboratory()
    .suite('ions', [{ group: 'nitrate' }], { analytes: [{ name: 'Sulfate' }] })
    .suite('metals', [{ group: 'metals-total' }], { analytes: [{ name: 'Manganese' }] })
    .sampled('W-1', ['ions', 'metals'], AT)
    .add('blank', 'cold', { event: 'event-1', number: 'TB-9', type: 'temperature', suites: [], collected: AT })
    .add('cooler', 'c-1', cooler)
    .bottle('I-1', 'nitrate', { sample: 'sample-W-1', suite: 'ions', cooler: 'c-1' })
    .bottle('M-1', 'metals-total', { sample: 'sample-W-1', suite: 'metals', cooler: 'c-1' })
    .add('sample-receipt', 'r-1', {
      event: 'event-1',
      cooler: 'c-1',
      laboratory: 'lab-1',
      received: CAME,
      items,
      observed,
    })
    .samples();
  const [sample] = of.samples;
  const [blank] = of.blanks;
  if (!sample || !blank) throw new Error('the world has no sample, or no blank');
  const named = new Map<string, readonly (typeof sample | typeof blank)[]>([
    ['S-W-1', [sample]],
    ['TB-9', [blank]],
  ]);
  const file = [HEAD, cells].map((one, at) => ({ line: at + 1, cells: one }));
  const asked = { of, laboratory, named, firm: '11111111-1111-4111-8111-111111111111' };
  const judged = judgeResults(file, { ...asked, observed: { ...observed, captured: 'same-day' } });
  expect([judged.problems, judged.fresh.length]).toEqual([[], 1]);
  return judged.notes.map(({ note }) => note);
}

const sulfate = ['S-W-1', 'Sulfate', '12', 'mg/L'];

describe('a result', () => {
  it.each(['broken', 'missing'])('of a sample whose only bottle for it is told as %s is asked about', (condition) => {
    const said = condition === 'broken' ? 'I-1 came broken' : 'I-1 did not come';
    expect(notes(sulfate, [{ label: 'I-1', condition }])).toEqual([expect.stringContaining(said)]);
    expect(notes(sulfate, [{ label: 'I-1', condition }], null)).toHaveLength(1);
  });

  it.each(['ok', 'leaking'])('of one that is told as %s is not', (condition) => {
    expect(notes(sulfate, [{ label: 'I-1', condition }])).toEqual([]);
  });

  it('is not asked about for another bottle of its sample', () => {
    expect(notes(sulfate, [{ label: 'M-1', condition: 'broken' }])).toEqual([]);
  });

  it('below zero is asked about where it is a mass in a volume, and not where it is none', () => {
    expect(notes(['S-W-1', 'Manganese', '-3', 'ug/L'])).toEqual([expect.stringContaining('below zero')]);
    expect(notes(['S-W-1', 'Manganese', '-3', 'pCi/L'])).not.toContainEqual(expect.stringContaining('below zero'));
    expect(notes(['S-W-1', 'Manganese', '3', 'ug/L'])).toEqual([]);
  });

  it('of a temperature blank is asked about', () => {
    expect(notes(['TB-9', 'Benzene', '1.2', 'ug/L'])).toEqual([expect.stringContaining('temperature blank')]);
  });
});
