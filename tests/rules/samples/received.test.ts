import { describe, expect, it } from 'vitest';
import { laboratoryList, toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { receivedContainers } from '../../../src/rules/samples/received.ts';
import { indexSamples } from '../../../src/rules/samples/samples-index.ts';
import { idOf, SamplesWorld } from './samples-world.ts';

const COLLECTED = '2026-05-04T10:00:00-05:00';
const NINE = '2026-05-05T09:00:00-05:00';
const LATER = '2026-05-05T09:30:00-05:00';

function packed(): SamplesWorld {
  const world = new SamplesWorld()
    .laboratory()
    .suite('ions', [{ group: 'nitrate' }])
    .sampled('W-1', ['ions'], COLLECTED)
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1', packed: COLLECTED });
  for (const label of ['N-1', 'N-2', 'N-3']) {
    world.bottle(label, 'nitrate', { sample: 'sample-W-1', suite: 'ions', cooler: 'c-1' }).fill(label, COLLECTED);
  }
  return world;
}

const receipt = (world: SamplesWorld, id: string, received: string, more: object) =>
  world.add('sample-receipt', id, { event: 'event-1', cooler: 'c-1', received, ...more });

function conditions(world: SamplesWorld): readonly (string | undefined)[] {
  const samples = world.samples();
  const said = receivedContainers(samples, indexSamples(samples));
  return ['N-1', 'N-2', 'N-3'].map((label) => said.get(idOf(label))?.condition);
}

describe('two receipts of one cooler', () => {
  const said = [
    { label: 'N-1', condition: 'missing' },
    { label: 'N-2', condition: 'broken' },
  ];

  it.each([
    ['after it', NINE, LATER],
    ['before it', LATER, NINE],
    ['at the same minute', NINE, NINE],
  ])('one that only adds the temperature, %s, takes back nothing of what the other says', (_way, first, second) => {
    const world = receipt(packed(), 'r-1', first, { items: said });
    expect(conditions(receipt(world, 'r-2', second, { temperatureC: '4.0' }))).toEqual(['missing', 'broken', 'ok']);
    const list = [...laboratoryList(toldToLaboratory(world.samples(), idOf('lab-1')))];
    expect(list.map(({ labelId, standing, temperatureC }) => [labelId, standing, temperatureC])).toEqual([
      ['N-1', 'not-received', undefined],
      ['N-2', 'received-broken', '4.0'],
      ['N-3', 'received', '4.0'],
    ]);
  });

  it('a later one that names a bottle has the last word of it, and of no other', () => {
    const world = receipt(packed(), 'r-1', NINE, { items: said });
    receipt(world, 'r-2', LATER, { items: [{ label: 'N-1', condition: 'ok' }] });
    expect(conditions(world)).toEqual(['ok', 'broken', 'ok']);
  });
});

describe('a cooler that is read in two goes', () => {
  const go = (labels: readonly string[], missing: readonly string[]) => ({
    labels,
    items: missing.map((label) => ({ label, condition: 'missing' })),
  });

  it.each([
    ['later', NINE, LATER],
    ['earlier, by its times', LATER, NINE],
    ['in the same minute', NINE, NINE],
  ])('has received what either read, the second %s', (_when, first, second) => {
    const world = receipt(packed(), 'r-1', first, go(['N-1'], ['N-2', 'N-3']));
    expect(conditions(world)).toEqual(['ok', 'missing', 'missing']);
    receipt(world, 'r-2', second, go(['N-2'], ['N-1', 'N-3']));
    expect(conditions(world)).toEqual(['ok', 'ok', 'missing']);
    const samples = world.samples();
    const said = receivedContainers(samples, indexSamples(samples));
    expect(said.get(idOf('N-2'))?.at).toBe(second);
  });

  it('keeps the condition that was told of a bottle, whoever reads its label once more', () => {
    const broken = [{ label: 'N-1', condition: 'broken' }];
    const world = receipt(packed(), 'r-1', NINE, { labels: ['N-2'], items: [...broken] });
    expect(conditions(receipt(world, 'r-2', LATER, go(['N-1', 'N-2', 'N-3'], [])))).toEqual(['broken', 'ok', 'ok']);
  });

  it('may be told afterwards of one bottle that it did not come, though its label was listed', () => {
    const world = receipt(packed(), 'r-1', NINE, go(['N-1', 'N-2', 'N-3'], []));
    receipt(world, 'r-2', LATER, { items: [{ label: 'N-1', condition: 'missing' }] });
    expect(conditions(world)).toEqual(['missing', 'ok', 'ok']);
  });
});

describe('a receipt of another laboratory', () => {
  const items = [{ label: 'N-1', condition: 'broken' }];

  it.each([
    ['of loose bottles', { cooler: undefined, laboratory: 'lab-2' }],
    ['of a cooler of its own', { cooler: 'c-2' }],
  ])('%s says nothing of a bottle that goes elsewhere, whatever its label', (_of, more) => {
    const world = packed()
      .laboratory('lab-2', { name: 'Other Laboratory' })
      .add('cooler', 'c-2', { event: 'event-1', number: 'C2', laboratory: 'lab-2' });
    expect(conditions(receipt(world, 'r-1', NINE, { ...more, items }))).toEqual([undefined, undefined, undefined]);
  });

  it('counts for what is packed in the cooler that it opened', () => {
    const world = packed().laboratory('lab-2', { name: 'Other Laboratory' });
    expect(conditions(receipt(world, 'r-1', NINE, { laboratory: 'lab-2', items }))).toEqual(['broken', 'ok', 'ok']);
  });

  it('counts for a bottle of which nobody said where it goes', () => {
    const world = packed().laboratory('lab-2', { name: 'Other Laboratory' }).bottle('L-1', 'nitrate');
    const loose = { cooler: undefined, laboratory: 'lab-2', items: [{ label: 'L-1', condition: 'ok' }] };
    const samples = receipt(world, 'r-1', NINE, loose).samples();
    expect(receivedContainers(samples, indexSamples(samples)).get(idOf('L-1'))?.condition).toBe('ok');
  });

  it('of two bottles of one label means the one that was kept', () => {
    const world = packed();
    for (const at of [1, 2, 3, 4]) {
      world.bottle(`gone-${at}`, 'nitrate', {
        label: 'N-1',
        sample: 'sample-W-1',
        suite: 'ions',
        standing: 'discarded',
      });
    }
    expect(conditions(receipt(world, 'r-1', NINE, { items }))).toEqual(['broken', 'ok', 'ok']);
  });
});
