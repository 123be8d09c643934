import { describe, expect, it } from 'vitest';
import { calendarEntries } from '../../src/reads/calendar-entries.ts';
import { eventClocks } from '../../src/rules/samples/deadlines/event-clocks.ts';
import { SamplesWorld } from '../rules/samples/samples-world.ts';

const AT = '2026-05-04T10:00:00-05:00';
const LATER = '2026-05-04T10:20:00-05:00';
const revised = { revisions: 3, atMs: 0 };

function world(): SamplesWorld {
  const made = new SamplesWorld()
    .laboratory()
    .suite('VOC', [{ group: 'volatiles' }, { group: 'nitrate' }])
    .sampled('W-1', ['VOC'], AT)
    .sampled('W-2', ['VOC'], AT);
  for (const [label, group, well, at] of [
    ['V-3', 'volatiles', 'W-1', LATER],
    ['V-1', 'volatiles', 'W-1', AT],
    ['V-2', 'volatiles', 'W-1', LATER],
    ['N-1', 'nitrate', 'W-1', AT],
    ['V-4', 'volatiles', 'W-2', AT],
  ] as const) {
    made.bottle(label, group, { sample: `sample-${well}`, suite: 'VOC' }).fill(label, at, { preserved: true });
  }
  return made;
}

const entries = (isStruck = (_label: string) => false) =>
  calendarEntries(eventClocks(world().samples()), {
    isStruck: ({ container }) => isStruck(container.fields.label),
    revised: () => revised,
    timeZone: 'America/Chicago',
  });

describe('the entries of a calendar', () => {
  it('are one for all vials of a group in a sample, due when the first of them is, with each of them named', () => {
    const all = entries();
    expect(all).toHaveLength(3);
    const [vials] = all.filter(({ title }) => title.includes('(3 bottles)'));
    expect(vials?.title).toContain('of S-W-1 from W-1 (3 bottles)');
    expect(vials?.detail?.split('\n').map((line) => /in (V-\d)/.exec(line)?.[1])).toEqual(['V-1', 'V-2', 'V-3']);
    expect(vials && new Date(vials.dueAt).toISOString()).toBe('2026-05-18T15:00:00.000Z');
  });

  it('keep their UIDs, move to what still runs, and are struck when nothing does', () => {
    const before = entries();
    const vials = (all: ReturnType<typeof entries>) =>
      all.find(({ uid }) => uid === before.find(({ title }) => title.includes('(3'))?.uid);
    const one = vials(entries((label) => label === 'V-1'));
    expect([one?.isCancelled, one && new Date(one.dueAt).toISOString()]).toEqual([false, '2026-05-18T15:20:00.000Z']);
    expect(one?.detail).not.toContain('V-1');
    expect(vials(entries((label) => label.startsWith('V')))?.isCancelled).toBe(true);
    expect(new Set(before.map(({ uid }) => uid)).size).toBe(3);
  });
});
