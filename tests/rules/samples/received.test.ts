import { describe, expect, it } from 'vitest';
import { laboratoryList, toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { receivedContainers } from '../../../src/rules/samples/received.ts';
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
  const said = receivedContainers(world.samples());
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
