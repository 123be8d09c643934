import { describe, expect, it } from 'vitest';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import { unitTimeline } from '../../../src/rules/equipment/unit-timeline.ts';
import { at, Day, ENDED_IS_CLEAN } from './equipment-day.ts';

const timeline = (day: Day, unit: string) => unitTimeline(equipmentIndex(day.lists, ENDED_IS_CLEAN), unit);

describe('the timeline of a unit', () => {
  it('tells wells, decons, parts, services, rinsates and crews in one order', () => {
    const day = new Day();
    day.well('MW-1');
    day.unit('P-1', { type: 'bladder-pump' });
    day.part('bladder-1', { type: 'bladder', lot: 'L-7' });
    day.part('bladder-2', { type: 'bladder', lot: 'L-8' });
    day.blank('EB-1', 'P-1', '10:00');
    day.result({ blank: 'EB-1' }, null);
    const decon = day.decon('P-1', '09:10', '09:40', { protocol: 'bladder-pump-new-parts' });
    day.step(decon.id, 'new-bladder', '09:30', { part: 'bladder-2' });
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
    day.change('P-1', 'bladder-1', 'installed', '07:30');
    day.service('P-1', 'inspected', '07:00', { result: 'pass' });
    day.signOut('P-1', 'crew-1', '07:10', '17:00');
    expect(timeline(day, 'P-1')).toMatchObject([
      { what: 'service', type: 'inspected', result: 'pass', from: at('07:00'), until: at('07:00') },
      { what: 'sign-out', crew: 'crew-1', from: at('07:10'), until: at('17:00') },
      { what: 'part', part: 'bladder-1', lot: 'L-7', from: at('07:30'), until: at('09:30'), endedBy: 'replaced' },
      { what: 'contact', visit: 'v1', well: 'MW-1', how: 'down-the-well', from: at('08:00'), until: at('09:00') },
      { what: 'decon', isClean: true, from: at('09:10'), until: at('09:40'), record: decon.id },
      { what: 'part', part: 'bladder-2', lot: 'L-8', from: at('09:30'), until: null, endedBy: null },
      { what: 'blank', number: 'EB-1', standing: 'clean', from: at('10:00') },
    ]);
    expect(timeline(day, 'P-9')).toEqual([]);
  });

  it('tells that a decon that nobody ended was over when the unit was used or cleaned anew', () => {
    const day = new Day();
    day.unit('P-1');
    day.well('MW-1');
    day.decon('P-1', '07:00');
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
    day.decon('P-1', '09:10');
    const decons = timeline(day, 'P-1').filter(({ what }) => what === 'decon');
    expect(decons.map(({ from, until }) => [from, until])).toEqual([
      [at('07:00'), timeline(day, 'P-1').find(({ what }) => what === 'contact')?.from],
      [at('09:10'), null],
    ]);
  });

  it('takes the parts that are put on: two new pieces for one well both stay, one after a well replaces both', () => {
    const day = new Day();
    day.unit('P-1');
    for (const part of ['water-line', 'air-line', 'new-line']) day.part(part, { type: 'tubing' });
    day.change('P-1', 'water-line', 'installed', '07:30');
    day.change('P-1', 'air-line', 'installed', '07:35');
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
    day.change('P-1', 'new-line', 'installed', '09:30');
    const parts = timeline(day, 'P-1').filter(({ what }) => what === 'part');
    expect(parts).toMatchObject([
      { part: 'water-line', until: at('09:30'), endedBy: 'replaced' },
      { part: 'air-line', until: at('09:30'), endedBy: 'replaced' },
      { part: 'new-line', until: null },
    ]);
  });

  it('ends the stay of a part where it is put on another unit, taken off, discarded or kept for its well', () => {
    const day = new Day();
    for (const unit of ['P-1', 'P-2']) day.unit(unit);
    for (const part of ['a', 'b', 'c', 'd']) day.part(part, { type: 'other' });
    for (const part of ['a', 'b', 'c', 'd']) day.change('P-1', part, 'installed', '07:30');
    day.change('P-2', 'a', 'installed', '08:00');
    day.change('P-1', 'b', 'removed', '08:10');
    day.change('P-1', 'c', 'discarded', '08:20');
    day.change('P-1', 'd', 'kept-for-well', '08:30', 'MW-1');
    day.change('P-1', 'a', 'discarded', '09:00');
    const ends = timeline(day, 'P-1').flatMap((one) => (one.what === 'part' ? [`${one.part} ${one.endedBy}`] : []));
    expect(ends).toEqual(['a moved-on', 'b removed', 'c discarded', 'd kept-for-well']);
    expect(timeline(day, 'P-2')).toMatchObject([{ part: 'a', until: null }]);
  });

  it('of a year has its 400 wells, 400 decons and 400 installed bladders', () => {
    const day = new Day();
    day.unit('P-1', { type: 'bladder-pump' });
    for (let turn = 0; turn < 400; turn += 1) {
      const date = new Date(Date.UTC(2026, 0, 1 + Math.floor(turn / 2))).toISOString().slice(5, 10);
      const hour = turn % 2 === 0 ? 8 : 13;
      const time = (minute: string, plus = 0) => `${date} ${String(hour + plus).padStart(2, '0')}:${minute}`;
      day.pumped(`v${turn}`, `MW-${turn % 30}`, 'P-1', time('00'), time('00', 1));
      const decon = day.decon('P-1', time('10', 1), time('50', 1), { protocol: 'bladder-pump-new-parts' });
      for (let step = 0; step < 8; step += 1) day.step(decon.id, `step-${step}`, time(`${15 + step * 4}`, 1));
      day.part(`bladder-${turn}`, { type: 'bladder' });
      day.step(decon.id, 'new-bladder', time('48', 1), { part: `bladder-${turn}` });
      day.sample(`S-${turn}`, `v${turn}`, time('55'));
    }
    const known = equipmentIndex(day.lists, ENDED_IS_CLEAN);
    expect(unitTimeline(known, 'P-1')).toHaveLength(1_200);
  });
});
