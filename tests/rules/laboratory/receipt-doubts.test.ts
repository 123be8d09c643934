import { describe, expect, it } from 'vitest';
import { coolerFacts } from '../../../src/rules/custody/cooler-facts.ts';
import { receiptDoubts } from '../../../src/rules/laboratory/receipt/receipt-doubts.ts';
import { receiptFaults } from '../../../src/rules/laboratory/receipt/receipt-sense.ts';
import { SamplesWorld } from '../samples/samples-world.ts';

const at = (day: string, clock: string) => `2026-05-${day}T${clock}:00-05:00`;

type Given = readonly [side: 'relinquished' | 'received', at: string];

/** Types of what is doubted of a receipt of a cooler with a sample of the 4th, a trip blank of this time, and hand-overs. */
function doubts(more: object, { blank = at('04', '08:00'), hands = [] as readonly Given[] } = {}): readonly string[] {
  const world = new SamplesWorld()
    .sampled('W-1', ['VOC'], at('04', '10:00'))
    .add('blank', 'tb', { event: 'event-1', number: 'TB-1', type: 'trip', suites: ['VOC'], collected: blank })
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', packed: at('04', '11:00') })
    .bottle('V-1', 'volatiles', { sample: 'sample-W-1', cooler: 'c-1' })
    .bottle('T-1', 'volatiles', { blank: 'tb', cooler: 'c-1' });
  hands.forEach(([side, time], index) => {
    world.add('hand-over', `h-${index}`, { cooler: 'c-1', side, at: time, name: 'Ann Poe' });
  });
  world.add('sample-receipt', 'r-1', { event: 'event-1', cooler: 'c-1', received: at('05', '09:00'), ...more });
  const of = world.samples();
  const [cooler, receipt] = [of.coolers[0], of.receipts[0]];
  if (!cooler || !receipt) throw new Error('no cooler, or no receipt');
  return receiptDoubts(receipt, coolerFacts(cooler, of)).map(({ type }) => type);
}

describe('a receipt is doubted', () => {
  it.each([
    ['30', 1],
    ['29.9', 0],
    ['-80', 0],
    ['-80.1', 1],
    ['-70', 0],
  ])('at %s °C so often: %i', (temperatureC, count) => {
    expect(doubts({ temperatureC })).toEqual(count === 0 ? [] : ['temperature-doubtful']);
  });

  it.each([
    ['0', 0],
    ['14', 0],
    ['-0.1', 1],
    ['14.1', 1],
  ])('at a pH of %s so often: %i', (ph, count) => {
    const items = [{ label: 'V-1', condition: 'ok', ph }];
    expect(doubts({ items })).toEqual(count === 0 ? [] : ['ph-doubtful']);
  });

  it('before its samples were collected, and not before a trip blank was', () => {
    expect(doubts({ received: at('04', '09:00') })).toEqual(['received-before-collected']);
    expect(doubts({}, { blank: at('06', '08:00') })).toEqual([]);
  });

  it('before it was first handed over, and not before a laboratory passed it on or somebody else signed', () => {
    expect(doubts({}, { hands: [['relinquished', at('05', '10:00')]] })).toEqual(['received-before-hand-over']);
    const passed: readonly Given[] = [
      ['relinquished', at('06', '10:00')],
      ['relinquished', at('04', '16:00')],
    ];
    expect(doubts({}, { hands: passed })).toEqual([]);
    expect(doubts({}, { hands: [['received', at('05', '10:00')]] })).toEqual([]);
  });
});

it('every bottle of a receipt is looked at for what can only be a slip, to the coldest that may be', () => {
  const items = ['-100', '-100.1', '100.1'].map((temperatureC, bottle) => ({
    ...{ label: `V-${bottle}`, condition: 'ok' as const, temperatureC },
  }));
  const faults = receiptFaults({ received: at('05', '09:00'), items }, at('05', '10:00'));
  expect(faults.map(({ pointer }) => pointer)).toEqual(['/items/1/temperatureC', '/items/2/temperatureC']);
});
