import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { TimelineFacts } from '../../../src/documents/unit-timeline/timeline-facts.ts';
import { unitTimelineSvg } from '../../../src/documents/unit-timeline/unit-timeline-svg.ts';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import { unitStates } from '../../../src/rules/equipment/unit-state.ts';
import { unitTimeline } from '../../../src/rules/equipment/unit-timeline.ts';
import { cleanDay } from '../../rules/equipment/crew-day.ts';
import { Day, ENDED_IS_CLEAN } from '../../rules/equipment/equipment-day.ts';
import { elementsOf } from '../svg/well-formed.ts';

function factsOf(day: Day, more: Partial<TimelineFacts> = {}): TimelineFacts {
  const index = equipmentIndex(day.lists, ENDED_IS_CLEAN);
  const told = { states: unitStates(index, 'P-1'), entries: unitTimeline(index, 'P-1') };
  return { label: 'P-1', type: 'bladder pump', names: new Map(), timeZone: 'America/Chicago', ...told, ...more };
}

const draw = (day: Day, more: Partial<TimelineFacts> = {}) => unitTimelineSvg(factsOf(day, more));
const THE_DAY = { from: '2026-05-04', until: '2026-05-04' };
const texts = (svg: string) => elementsOf(svg).filter(({ name }) => name === 'text' || name === 'title');
const says = (svg: string) => texts(svg).map(({ text }) => text);

function oneDay(): Day {
  const { day } = cleanDay();
  day.blank('EB-9', 'P-1', '09:30');
  day.result({ blank: 'EB-9' }, '3.1');
  day.decon('P-1', '15:30', '15:40', { labelText: 'incomplete' });
  return day;
}

/** 400 wells with a decon and a new bladder each. */
function oneYear(): Day {
  const day = new Day();
  day.unit('P-1', { type: 'bladder-pump' });
  for (let turn = 0; turn < 400; turn += 1) {
    const date = new Date(Date.UTC(2026, 0, 1 + Math.floor(turn / 2))).toISOString().slice(5, 10);
    const time = (minute: string, plus = 0) =>
      `${date} ${turn % 2 === 0 ? '0' : '1'}${8 - 5 * (turn % 2) + plus}:${minute}`;
    day.pumped(`v${turn}`, `MW-${turn % 50}`, 'P-1', time('00'), time('50'));
    day.decon('P-1', time('00', 1), time('40', 1));
    day.part(`bladder-${turn}`, { type: 'bladder' });
    day.change('P-1', `bladder-${turn}`, 'installed', time('45', 1));
  }
  return day;
}

describe('the picture of the life of a unit', () => {
  it('of a day tells its title, its zone, each state, well, decon, rinsate, part and crew in words', () => {
    const told = says(draw(oneDay(), THE_DAY));
    for (const word of [
      'P-1, bladder pump',
      '2026-05-04 00:00 to 23:59. Times in America/Chicago (UTC-05:00).',
      ...['State', 'not known', 'used', 'in a well', 'being cleaned', 'clean', 'out of service'],
      ...['Wells', 'MW-11', 'MW-14', 'Decons', 'complete', 'not complete', 'Rinsates', 'EB-9', 'EB-1'],
      ...['Soft parts', 'bladder', 'Crews', 'crew-1', 'rinsate failed', 'rinsate clean'],
      'MW-11, down the well\n2026-05-04 08:05 to 2026-05-04 08:50',
      'Equipment blank EB-9: failed\n2026-05-04 09:30',
    ])
      expect(told).toContain(word);
  });

  it('tells times in the zone that it names, whatever the phones said', () => {
    const told = says(draw(oneDay(), { ...THE_DAY, timeZone: 'Europe/Berlin' }));
    expect(told).toContain('2026-05-04 00:00 to 23:59. Times in Europe/Berlin (UTC+02:00).');
    expect(told).toContain('MW-11, down the well\n2026-05-04 15:05 to 2026-05-04 15:50');
  });

  it('draws the latest of two rounds half a year apart, says that there is an earlier one, and draws both where asked', () => {
    const day = oneDay();
    day.pumped('v-autumn', 'MW-14', 'P-1', '10-13 09:00', '10-13 10:00');
    const under = (more?: Partial<TimelineFacts>) => says(draw(day, more)).find((text) => text.includes('Times in'));
    expect(under()).toBe(
      '2026-10-13 09:00 to 10:59. Times in America/Chicago (UTC-05:00). The latest round; what was before it, ' +
        'since 2026-01-10, is drawn where from= is asked for.',
    );
    expect(says(draw(day))).not.toContain('MW-11');
    expect(under({ from: '2026-05-04' })).toMatch(/^2026-05-04 to 2026-10-13\. Times in [^.]*\.$/);
    expect(under({ until: '2026-05-31' })).toMatch(/^2026-05-04 to 2026-05-31\..* since 2026-01-10, /);
  });

  it('gives letters on a pattern a ground of their own, and what lasted a minute a width that is seen', () => {
    const day = new Day();
    day.unit('P-1');
    day.well('MW-1');
    day.decon('P-1', '07:00', '07:01');
    day.pumped('v1', 'MW-1', 'P-1', '07:03', '15:00');
    day.decon('P-1', '15:30', '20:00', { labelText: 'incomplete' });
    const svg = draw(day, THE_DAY);
    expect(svg).toMatch(/<text [^>]*paint-order="stroke"[^>]*>pump flush</);
    const widths = elementsOf(svg)
      .filter(({ name, attributes }) => name === 'rect' && attributes.includes(' height="10"'))
      .map(({ attributes }) => Number(/ width="([\d.]+)"/.exec(attributes)?.[1]))
      .filter((width) => !Number.isNaN(width));
    expect(widths.length).toBeGreaterThan(5);
    expect(Math.min(...widths)).toBeGreaterThanOrEqual(3);
  });

  it('draws the days that are asked for, and what lasts over their edges', () => {
    const day = oneDay();
    const told = says(draw(day, { from: '2026-05-05', until: '2026-05-06' }));
    expect(told).toContain('2026-05-05 to 2026-05-06. Times in America/Chicago (UTC-05:00).');
    expect(told).not.toContain('MW-11');
    expect(told).toContain('bladder');
    expect(says(draw(day, { from: '2026-05-09', until: '2026-05-02' }))[0]).toBe('P-1, bladder pump');
    const none = says(draw(new Day()));
    expect(none).toContain('No record says when anything happened to it.');
  });

  it('of a year stays small: what finds no room is drawn as one, with its number, and the rest of the wells together', () => {
    const svg = draw(oneYear());
    const told = says(svg);
    expect(svg.length).toBeLessThan(400_000);
    expect(told).toContain('so many in one place');
    expect(told).toContain('21 others');
    expect(told.some((one) => one.startsWith('400 in one place:') && one.endsWith('and 388 more'))).toBe(true);
  });

  it('keeps within the page: no bar, mark or label begins outside of it', () => {
    for (const day of [oneDay(), oneYear()]) {
      const svg = draw(day);
      const [, width = 0, height = 0] = (/viewBox="0 0 (\S+) (\S+)"/.exec(svg) ?? []).map(Number);
      for (const { attributes } of elementsOf(svg).filter(({ name }) => name === 'rect' || name === 'text')) {
        const number = (name: string) => Number(new RegExp(` ${name}="([\\d.-]+)"`).exec(attributes)?.[1] ?? 0);
        const right = number('x') + (attributes.includes('%') ? 0 : number('width'));
        expect(number('x')).toBeGreaterThanOrEqual(0);
        expect(right).toBeLessThanOrEqual(width);
        expect(number('y')).toBeLessThanOrEqual(height);
        for (const name of ['width', 'height']) expect(number(name)).toBeGreaterThanOrEqual(0);
      }
    }
  });

  it('is the same for the same records in any order', () => {
    const lists = oneDay().lists;
    const turned = Object.fromEntries(Object.entries(lists).map(([name, list]) => [name, list.toReversed()]));
    const again = Object.assign(new Day(), { lists: turned as typeof lists });
    expect(draw(again)).toBe(draw(Object.assign(new Day(), { lists })));
  });

  it('holds whatever somebody typed as text, and stays well formed', () => {
    const nasty = fc.oneof(
      fc.string({ unit: 'binary', minLength: 1 }),
      fc.constantFrom(
        '<script>alert(1)</script>',
        ']]>',
        '&amp;<',
        '"><svg onload="x"',
        '\ud800',
        '\u0000',
        "'--><!--",
      ),
    );
    fc.assert(
      fc.property(nasty, nasty, nasty, (label, name, number) => {
        const day = new Day();
        day.unit('P-1');
        day.well('w');
        day.pumped('v1', 'w', 'P-1', '08:00', '09:00');
        day.decon('P-1', '09:10', '09:40', { protocol: name as 'pump-flush' });
        day.part('p', { label: name });
        day.change('P-1', 'p', 'installed', '07:00');
        day.signOut('P-1', 'c', '06:00');
        day.blank(number, 'P-1', '10:00');
        const names = new Map(['w', 'p', 'c'].map((id) => [id, name]));
        const elements = elementsOf(draw(day, { label, names }));
        const known = ['svg', 'title', 'defs', 'pattern', 'rect', 'circle', 'path', 'text', 'g'];
        expect(elements.filter((one) => !known.includes(one.name))).toEqual([]);
        expect(elements.filter(({ attributes }) => /\son\w+=|href/.test(attributes))).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });
});
