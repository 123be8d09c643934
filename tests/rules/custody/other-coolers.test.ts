import { expect, it } from 'vitest';
import { otherCoolers } from '../../../src/rules/custody/other-coolers.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const at = (clock: string) => `2026-05-04T${clock}:00-05:00`;

it('another cooler was opened when the first of its receipts says so, and has its own seals', () => {
  const world = new SamplesWorld();
  for (const cooler of ['c-1', 'c-2', 'c-3']) {
    world.add('cooler', cooler, { event: 'event-1', number: cooler });
    world.add('seal', `seal of ${cooler}`, { cooler, number: '1', applied: at('08:00') });
  }
  for (const clock of ['17:30', '17:00', '18:00']) {
    world.add('sample-receipt', `r-${clock}`, { event: 'event-1', cooler: 'c-2', received: at(clock) });
  }
  const told = otherCoolers(idOf('c-1'), world.samples()).map(({ cooler, received, seals }) => [
    cooler.fields.number,
    received,
    seals.map(({ id }) => id),
  ]);
  expect(told.toSorted(([a], [b]) => (String(a) < String(b) ? -1 : 1))).toEqual([
    ['c-2', at('17:00'), [idOf('seal of c-2')]],
    ['c-3', null, [idOf('seal of c-3')]],
  ]);
});
