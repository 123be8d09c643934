import { expect, it } from 'vitest';
import { laboratoryList, toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const COLLECTED = '2026-05-04T10:00:00-05:00';

function rowFor(laboratoryTime: string) {
  const of = new SamplesWorld()
    .laboratory()
    .suite('Anions', [{ group: 'nitrate' }])
    .sampled('W1', ['Anions'], COLLECTED, { laboratoryTime })
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1', packed: '2026-05-04T17:00:00-05:00' })
    .bottle('N-1', 'nitrate', { sample: 'sample-W1', suite: 'Anions', cooler: 'c-1' })
    .fill('N-1', COLLECTED)
    .samples();
  const [row] = laboratoryList(toldToLaboratory(of, idOf('lab-1')));
  return row;
}

it('a deadline of the laboratory runs from the earlier of the told time and the collection', () => {
  const [earlier, same, later] = ['2026-05-04T09:00:00-05:00', COLLECTED, '2026-05-04T14:00:00-05:00'].map(rowFor);
  const dueMs = (row: typeof same) => Date.parse(row?.dueAt ?? '');
  expect(Number.isNaN(dueMs(same))).toBe(false);
  expect(later?.dueAt).toBe(same?.dueAt);
  expect(dueMs(same) - dueMs(earlier)).toBe(3_600_000);
  expect([later?.labelTime, same?.labelTime]).toEqual([expect.stringMatching(/14:00/), expect.stringMatching(/10:00/)]);
});
