import { describe, expect, it } from 'vitest';
import { coolerFacts } from '../../../src/rules/custody/cooler-facts.ts';
import { standingOf } from '../../../src/rules/custody/cooler-standing.ts';
import { SamplesWorld } from '../samples/samples-world.ts';

const at = (clock: string, day = '2026-05-04') => `${day}T${clock}:00-05:00`;

/** A cooler that Ann gave away at 16:10, with receipts of these times. */
function cooler(...received: readonly string[]) {
  const world = new SamplesWorld().laboratory();
  world.add('cooler', 'c-1', { event: 'event-1', number: 'C-1', laboratory: 'lab-1', packed: at('15:00') });
  const observed = { at: at('16:10'), entered: at('16:10'), captured: 'at-the-well', readBy: 'ann', writtenBy: 'ann' };
  world.add('hand-over', 'h-1', { cooler: 'c-1', side: 'relinquished', at: at('16:10'), name: 'Ann', observed });
  received.forEach((time, index) => {
    world.add('sample-receipt', `r-${index}`, { event: 'event-1', cooler: 'c-1', received: time, observed });
  });
  const of = world.samples();
  const [its] = of.coolers;
  if (!its) throw new Error('no cooler');
  const facts = coolerFacts(its, of);
  return { ...facts.custody, since: standingOf(facts).since };
}

describe('a receipt of a time before the cooler was given away', () => {
  it('takes the place of no other', () => {
    const wrong = at('17:00', '2025-05-04');
    const { changes, gaps, since } = cooler(wrong, at('17:05'));
    expect([since, changes.map(({ received }) => received?.at)]).toEqual([at('17:05'), [at('17:05')]]);
    expect(gaps).toHaveLength(1);
    expect(gaps[0]?.sentence).toContain('received it later');
  });

  it.each([
    ['an hour', at('15:00')],
    ['a year', at('17:00', '2025-05-04')],
  ])('stands on record by itself where it is %s early, and nobody knows when it came', (_by, received) => {
    const { changes, gaps, since } = cooler(received);
    expect(since).toBeNull();
    expect(changes.map((one) => [one.relinquished?.at, one.received?.at, one.reading?.order])).toEqual([
      [at('16:10'), received, 'question'],
    ]);
    expect(gaps.map(({ sentence }) => sentence)).toEqual([expect.stringContaining('by its receipt')]);
  });
});
