import { describe, expect, it } from 'vitest';
import { withOtherEvents } from '../../../src/rules/custody/from-other-events.ts';
import type { EventSamples } from '../../../src/rules/samples/event-samples.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const AT = '2026-05-04T10:00:00-05:00';
const bottles = ({ containers }: EventSamples) => containers.map(({ fields }) => fields.label).toSorted();

/** What is read of another event: two bottles, one of them in the cooler of the first. */
function other(): EventSamples {
  return new SamplesWorld()
    .sampled('W2', ['Anions'], AT)
    .add('blank', 'trip', { event: 'event-2', type: 'trip', number: 'T', collected: AT, suites: [] })
    .bottle('X-1', 'nitrate', { event: 'event-2', sample: 'sample-W2', cooler: 'c-1' })
    .bottle('X-2', 'nitrate', { event: 'event-2', sample: 'sample-W2', cooler: 'c-2' })
    .bottle('T-1', 'volatiles', { event: 'event-2', blank: 'trip', cooler: 'c-1' })
    .fill('X-1', AT)
    .fill('X-2', AT)
    .samples();
}

describe('what is in a cooler of other events', () => {
  it('comes with its fills and blanks, and with no sample', () => {
    const own = new SamplesWorld().bottle('A-1', 'nitrate', { cooler: 'c-1' }).samples();
    const { containers, fills, blanks, samples } = other();
    const all = withOtherEvents(idOf('c-1'), own, [...containers, ...fills, ...blanks, ...samples] as never);
    expect(bottles(all)).toEqual(['A-1', 'T-1', 'X-1']);
    expect(all.fills.map(({ fields }) => fields.container)).toEqual([idOf('X-1')]);
    expect(all.blanks.map(({ fields }) => fields.number)).toEqual(['T']);
    expect(all.samples).toEqual([]);
    expect(withOtherEvents(idOf('c-3'), own, containers as never)).toBe(own);
  });
});
