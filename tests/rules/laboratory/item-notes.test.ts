import { describe, expect, it } from 'vitest';
import { laboratoryDiscrepancies, officeDiscrepancies } from '../../../src/rules/laboratory/discrepancies-told.ts';
import { toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const COLLECTED = '2026-05-04T10:00:00-05:00';
const NINE = '2026-05-05T09:00:00-05:00';
const names = { idOf: (id: string) => id, referenceOf: (id: string) => id };

/** A bottle of W-1, with a blind duplicate in the event, and an item about it. */
function world(item: object) {
  return new SamplesWorld()
    .laboratory()
    .suite('ions', [{ group: 'nitrate' }])
    .sampled('W-1', ['ions'], COLLECTED)
    .add('sample', 'twin', { visit: 'visit-W-1', number: 'S-9', type: 'blind-duplicate', of: 'sample-W-1', suites: [] })
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1', packed: COLLECTED })
    .bottle('N-1', 'nitrate', { sample: 'sample-W-1', suite: 'ions', cooler: 'c-1' })
    .fill('N-1', COLLECTED)
    .add('discrepancy', 'd-1', {
      ...{ event: 'event-1', laboratory: 'lab-1', cooler: 'c-1', container: 'N-1', type: 'not-received' },
      ...{ detail: 'N-1 did not come.', raisedOn: 'laboratory', decides: 'coordinator', standing: 'open' },
      ...item,
    });
}

const receipt = (more: object, id = 'r-1') =>
  [id, { event: 'event-1', cooler: 'c-1', received: NINE, ...more }] as const;
const missing = { items: [{ label: 'N-1', condition: 'missing' }] };

/** The item as the office has it, and as the laboratory. */
function bothSides(of: SamplesWorld) {
  const samples = of.samples();
  return [
    officeDiscrepancies(samples, names)[0],
    laboratoryDiscrepancies(toldToLaboratory(samples, idOf('lab-1')), names)[0],
  ];
}

const notes = (of: SamplesWorld) => bothSides(of).map((one) => one?.note);
const decisions = (of: SamplesWorld) => bothSides(of).map((one) => one?.decision);

describe('what became of an open item', () => {
  const taken = 'The receipt that showed it was taken back.';

  it('is nothing while its receipt stands', () => {
    expect(notes(world({ receipt: idOf('r-1') }).add('sample-receipt', ...receipt(missing)))).toEqual([null, null]);
  });

  it('is told on both sides where its receipt was taken back', () => {
    const its = world({ receipt: idOf('r-1') }).add('sample-receipt', ...receipt(missing), {
      voided: { reason: 'by mistake', by: null },
    });
    expect(notes(its)).toEqual([taken, taken]);
    its.add('sample-receipt', ...receipt({ temperatureC: '4.0', ...missing }, 'r-2'));
    const also = `${taken} Another receipt of its cooler stands: it counts where that one says the same.`;
    expect(notes(its)).toEqual([also, also]);
  });

  it('is told where another receipt read the bottle', () => {
    const its = world({ receipt: idOf('r-1') }).add('sample-receipt', ...receipt({ labels: [], ...missing }));
    expect(notes(its)).toEqual([null, null]);
    its.add('sample-receipt', ...receipt({ labels: ['N-1'] }, 'r-2'));
    expect(notes(its)).toEqual(['It came: a receipt says so.', 'It came: a receipt says so.']);
  });

  it('is nothing where a bottle that came broken is read once more', () => {
    const its = world({ type: 'broken', receipt: idOf('r-1') }).add('sample-receipt', ...receipt({ labels: ['N-1'] }));
    expect(notes(its)).toEqual([null, null]);
  });
});

describe('a decision', () => {
  const decided = (decision: string, decides = 'coordinator') =>
    world({ standing: 'decided', decision, decides, decidedBy: 'Ann', decidedAt: NINE });

  it('that a laboratory is not told is said to the office to be withheld, with what to do', () => {
    const [office, laboratory] = notes(decided('Use the bottle of W-1 instead'));
    expect(office).toContain('PATCH /v1/discrepancies/');
    expect(laboratory).toBeNull();
  });

  it('that it reads has no note', () => {
    expect(notes(decided('Look again in the other cooler'))).toEqual([null, null]);
  });

  it('of the laboratory is its own word: it reads it, and the office is told of nothing withheld', () => {
    const own = decided('Use the bottle of W-1 instead', 'laboratory');
    expect([notes(own), decisions(own)[1]]).toEqual([[null, null], 'Use the bottle of W-1 instead']);
  });

  it('of the office that names what a laboratory is not told is not read there', () => {
    const [office, laboratory] = decisions(decided('Use the bottle of W-1 instead'));
    expect([office, laboratory]).toEqual(['Use the bottle of W-1 instead', expect.stringContaining('(withheld: ')]);
  });

  it('that was made needs no note of what became of its item', () => {
    const its = decided('Look again in the other cooler').add('sample-receipt', ...receipt({ labels: ['N-1'] }, 'r-2'));
    expect(notes(its)).toEqual([null, null]);
  });
});
