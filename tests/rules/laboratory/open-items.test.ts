import { describe, expect, it } from 'vitest';
import { toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { openItems } from '../../../src/rules/laboratory/receipt/open-items.ts';
import { receiptFields } from '../../../src/rules/laboratory/receipt/receipt-given.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const FIRM = '11111111-1111-4111-8111-111111111111';
const COLLECTED = '2026-05-04T10:00:00-05:00';

/** The items of receipts of one cooler, by their type, each receipt with its own. */
function opened(...receipts: readonly object[]): readonly ReadonlyMap<string, string>[] {
  const world = new SamplesWorld()
    .laboratory()
    .suite('ions', [{ group: 'nitrate' }])
    .sampled('W-1', ['ions'], COLLECTED)
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1', packed: COLLECTED });
  for (const label of ['N-1', 'N-2']) {
    world.bottle(label, 'nitrate', { sample: 'sample-W-1', suite: 'ions', cooler: 'c-1' }).fill(label, COLLECTED);
  }
  const plain = { event: 'event-1', cooler: 'c-1', received: '2026-05-05T09:00:00-05:00' };
  receipts.forEach((more, at) => {
    world.add('sample-receipt', `r-${at}`, { ...plain, ...more });
  });
  const told = toldToLaboratory(world.samples(), idOf('lab-1'));
  return receipts.map(
    (_, at) => new Map(openItems(idOf(`r-${at}`), told, FIRM).map(({ id, set }) => [String(set.type), id])),
  );
}

const ids = (type: string, ...receipts: readonly object[]) => {
  const found = opened(...receipts).map((items) => items.get(type));
  expect(found).not.toContain(undefined);
  return new Set(found).size;
};

describe('the items of two receipts of one cooler', () => {
  const missing = (label: string) => [{ label, condition: 'missing' }];

  it.each([
    ['too-warm', { temperatureC: '9.0' }],
    ['temperature-not-recorded', {}],
    ['count-differs', { temperatureC: '4.0', containersCounted: 5 }],
    ['not-received', { temperatureC: '4.0', items: missing('N-1') }],
  ])('%s: the same said again is the same item', (type, said) => {
    expect(ids(type, said, { ...said, received: '2026-05-05T11:00:00-05:00' })).toBe(1);
  });

  it.each([
    ['another temperature', 'too-warm', { temperatureC: '9.0' }, { temperatureC: '12.0' }],
    ['another bottle', 'too-warm', { temperatureC: '9.0', items: missing('N-1') }, { temperatureC: '9.0' }],
    ['another count', 'count-differs', { containersCounted: 5 }, { containersCounted: 1 }],
    ['another bottle that is missing', 'not-received', { items: missing('N-1') }, { items: missing('N-2') }],
  ])('%s is another item (%s)', (_what, type, first, second) => {
    expect(ids(type, first, second)).toBe(2);
  });

  it('a second go opens no item of what the first one read, and none of its count', () => {
    const first = receiptFields(
      { received: '2026-05-05T09:00:00-05:00', labels: ['N-1'], temperatureC: '4.0' },
      { sent: new Set(['N-1', 'N-2']) },
    );
    const second = receiptFields(
      { received: '2026-05-05T09:00:00-05:00', labels: ['N-2'], temperatureC: '4.0' },
      { sent: new Set(['N-1', 'N-2']) },
    );
    expect([...(opened(first)[0]?.keys() ?? [])]).toEqual(['not-received']);
    expect(opened(first, second).map((items) => [...items.keys()])).toEqual([[], []]);
  });
});
