import { describe, expect, it } from 'vitest';
import { toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { openItems } from '../../../src/rules/laboratory/receipt/open-items.ts';
import { receiptFaults } from '../../../src/rules/laboratory/receipt/receipt-sense.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const NOW = '2026-05-05T15:00:00Z';
const RECEIVED = '2026-05-05T09:00:00-05:00';

describe('a receipt that can only be a typing error', () => {
  const pointers = (more: object) =>
    receiptFaults({ received: RECEIVED, ...more }, NOW).map(({ pointer, fault }) => [pointer, fault]);

  it.each([
    ['a time to come', { received: '2026-05-06T15:01:00Z' }, '/received', '2026-05-06T15:01:00Z has not come'],
    ['450 °C', { temperatureC: '450' }, '/temperatureC', '450 °C is no temperature'],
    ['-300 °C', { temperatureC: '-300' }, '/temperatureC', 'in °C'],
    [
      '450 °C in a bottle',
      { items: [{ label: 'a', condition: 'ok', temperatureC: '450' }] },
      '/items/0/temperatureC',
      '',
    ],
    ['pH 71', { items: [{ label: 'a', condition: 'ok', ph: '71' }] }, '/items/0/ph', 'pH 71 is beyond -2 to 16'],
    [
      '90000 bottles',
      { containersCounted: 90_000 },
      '/containersCounted',
      '90000 bottles are more than one receipt is for',
    ],
  ])('%s is refused, with what was given', (_what, more, pointer, fault) => {
    expect(pointers(more)).toEqual([[pointer, expect.stringContaining(fault)]]);
  });

  it.each([
    ['a clock that is fast', { received: '2026-05-05T15:40:00Z' }],
    ['a clock of the server that is slow', { received: '2026-05-05T16:01:00Z' }],
    ['dry ice by an infrared thermometer', { temperatureC: '-81' }],
    ['a shipment of many coolers', { containersCounted: 1_200 }],
    ['strong acid', { items: [{ label: 'a', condition: 'ok', ph: '-0.2' }] }],
    ['boiling, and dry ice', { temperatureC: '100', items: [{ label: 'a', condition: 'ok', temperatureC: '-78.5' }] }],
    [
      'the ends of the scale',
      {
        items: [
          { label: 'a', condition: 'ok', ph: '0' },
          { label: 'b', condition: 'ok', ph: '14' },
        ],
      },
    ],
  ])('%s is none', (_what, more) => expect(pointers(more)).toEqual([]));
});

/** Types and texts of the items that the last of these receipts opens. */
function doubts(...receipts: readonly object[]): readonly string[] {
  const world = new SamplesWorld()
    .laboratory()
    .suite('ions', [{ group: 'nitrate' }])
    .sampled('W-1', ['ions'], '2026-05-04T10:00:00-05:00')
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1', packed: '2026-05-04T11:00:00-05:00' })
    .add('hand-over', 'h-1', { event: 'event-1', cooler: 'c-1', side: 'relinquished', at: '2026-05-04T16:00:00-05:00' })
    .bottle('N-1', 'nitrate', { sample: 'sample-W-1', suite: 'ions', cooler: 'c-1' })
    .fill('N-1', '2026-05-04T10:00:00-05:00');
  receipts.forEach((more, at) => {
    world.add('sample-receipt', `r-${at}`, { event: 'event-1', cooler: 'c-1', received: RECEIVED, ...more });
  });
  const told = toldToLaboratory(world.samples(), idOf('lab-1'));
  const items = openItems(idOf(`r-${receipts.length - 1}`), told, '11111111-1111-4111-8111-111111111111');
  return items.map(({ set }) => `${set.type}: ${set.detail}`);
}

describe('a receipt that is hard to believe', () => {
  it('came before its bottles were collected: they are named, once', () => {
    const [only, ...others] = doubts({ temperatureC: '4.0', received: '2026-05-03T09:00:00-05:00' });
    expect(only).toContain('received-before-collected: It is said to have come 2026-05-03 09:00, before these');
    expect(only).toContain('N-1');
    expect(others).toEqual([]);
  });

  it('came before the crew handed it over', () => {
    expect(doubts({ temperatureC: '4.0', received: '2026-05-04T12:00:00-05:00' })).toEqual([
      expect.stringContaining('received-before-hand-over: It is said to have come 2026-05-04 12:00'),
    ]);
    expect(doubts({ temperatureC: '4.0', received: '2026-05-04T15:50:00-05:00' })).toEqual([]);
  });

  it('came at a second temperature of the same thermometer', () => {
    const first = { temperatureC: '4.0', temperatureOf: 'blank' };
    expect(doubts(first, { ...first, temperatureC: '5.5' })).toEqual([
      'temperatures-differ: It is said to have come at 4.0 °C and at 5.5 °C: say which reading stands.',
    ]);
    expect(doubts(first, { ...first, temperatureC: '4' })).toEqual([]);
    expect(doubts(first, { temperatureC: '5.5', temperatureOf: 'cooler' })).toEqual([]);
  });

  it('came at 39 degrees, which is cool in °F', () => {
    expect(doubts({ temperatureC: '39' })).toContain(
      'temperature-doubtful: It is said to have come at 39 °C. Was that read in °F? It would be 3.9 °C.',
    );
    expect(doubts({ temperatureC: '12' }).join()).not.toContain('doubtful');
  });

  it('came colder than dry ice, at a pH beyond the scale, or after it was written down', () => {
    expect(doubts({ temperatureC: '-81' })).toContain(
      'temperature-doubtful: It is said to have come at -81 °C, which is colder than dry ice. What was that read of?',
    );
    const items = [{ label: 'N-1', condition: 'ok', ph: '-0.2' }];
    expect(doubts({ temperatureC: '4.0', items })).toContain(
      'ph-doubtful: A pH beyond 0 to 14 was read: N-1: -0.2. Is the meter calibrated there?',
    );
    const written = (entered: string) => ({ temperatureC: '4.0', observed: { at: RECEIVED, entered } });
    expect(doubts(written('2026-05-05T07:59:00-05:00'))).toEqual([
      'received-ahead: It is said to have come 2026-05-05 09:00, and was written down 2026-05-05 07:59, before that. Is the date right, and the clock?',
    ]);
    expect(doubts(written('2026-05-05T08:01:00-05:00'))).toEqual([]);
  });

  it('came without a cooler: the same is asked, and whether so many bottles are of one', () => {
    const loose = { cooler: undefined, laboratory: 'lab-1', temperatureC: '-81', containersCounted: 1_200 };
    expect(doubts(loose)).toEqual([
      expect.stringContaining('temperature-doubtful: '),
      'count-doubtful: 1200 bottles are said to have come, in no cooler that is named: a receipt for each cooler tells what did not come.',
    ]);
    expect(doubts({ ...loose, temperatureC: '4.0', containersCounted: 1_000 })).toEqual([]);
  });
});
