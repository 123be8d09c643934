import { expect, it } from 'vitest';
import { arrivalOf } from '../../../src/rules/custody/arrival.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const at = (clock: string) => `2026-05-04T${clock}:00-05:00`;

/** The receipt by which it came, where it was given away at 12:00 and, to be passed on, at 16:00; and whether it is too early. */
function arrival(...received: readonly string[]) {
  const world = new SamplesWorld();
  for (const clock of ['16:00', '12:00']) {
    world.add('hand-over', `h-${clock}`, { cooler: 'c-1', side: 'relinquished', at: at(clock), name: 'Ann Poe' });
  }
  for (const clock of received) world.add('sample-receipt', `r-${clock}`, { event: 'event-1', received: at(clock) });
  const { receipts, handOvers } = world.samples();
  const inOrder = received.map((clock) => receipts.find(({ id }) => id === idOf(`r-${clock}`)));
  const found = arrivalOf(
    inOrder.flatMap((one) => one ?? []),
    handOvers,
  );
  return [found?.receipt.fields.received, found?.isTooEarly];
}

it.each([
  ['after it was given away for the last time, before all others', ['11:00', '13:00', '17:00'], '17:00', false],
  ['after it was given away for the first time, where a laboratory passed it on', ['11:00', '13:00'], '13:00', false],
  ['as much before as two clocks may differ', ['13:00', '15:45', '17:00'], '15:45', false],
  ['that is before both, and tells no time at which it came', ['11:00', '11:44'], '11:00', true],
])('a cooler came by the first receipt %s', (_which, received, expected, isTooEarly) => {
  expect(arrival(...received)).toEqual([at(expected), isTooEarly]);
});
