import { describe, expect, it } from 'vitest';
import { equipmentFacts } from '../../../src/rules/equipment/equipment-facts.ts';
import type { EquipmentPlan } from '../../../src/rules/equipment/equipment-plan.ts';
import { equipmentFindings } from '../../../src/rules/equipment/faults.ts';
import { Day, ENDED_IS_CLEAN } from './equipment-day.ts';

const factsOf = (day: Day) => equipmentFacts(day.lists, { judgeDecon: ENDED_IS_CLEAN });
const codesOf = (day: Day) => equipmentFindings(factsOf(day)).map(({ code, unit, of }) => `${code} ${unit} ${of}`);

function event(day: Day, id: string, equipment: EquipmentPlan): void {
  const fields = { plan: { equipment } };
  day.lists.events.push({ kind: 'event', id, rev: 1, voided: null, client: null, clock: null, fields });
}

describe('the day of a unit', () => {
  function world(left?: string): Day {
    const day = new Day();
    day.unit('P-1');
    day.well('MW-1');
    day.visit('v1', 'MW-1', '08:00', left);
    day.setUp('v1', 'P-1', '08:10');
    return day;
  }
  const isClosed = (day: Day) => factsOf(day).isDayClosed('P-1', '2026-05-04');

  it('goes on until the crews left every well and the unit was signed back in after the last', () => {
    const day = world('09:00');
    expect(isClosed(day)).toBe(false);
    day.signOut('P-1', 'crew-1', '07:00', '08:30');
    expect(isClosed(day)).toBe(false);
    day.signOut('P-1', 'crew-1', '08:30', '16:00');
    expect(isClosed(day)).toBe(true);
    day.visit('v2', 'MW-1', '14:00');
    day.use('v2', 'P-1', '14:10', '14:20');
    expect(isClosed(day)).toBe(false);
  });

  it.each([
    ['a well', (day: Day) => day.pumped('v9', 'MW-1', 'P-1', '05-05 08:00', '05-05 09:00')],
    ['a decon', (day: Day) => day.decon('P-1', '05-06 08:00')],
    ['a service', (day: Day) => day.service('P-1', 'inspected', '06-01 08:00')],
    ['a change of parts', (day: Day) => day.change('P-1', 'line-1', 'installed', '05-05 08:00')],
    ['a blank', (day: Day) => day.blank('EB-1', 'P-1', '05-05 08:00')],
    ['its return', (day: Day) => day.signOut('P-1', 'crew-1', '07:00', '05-05 07:00')],
  ])('is over by %s of a later day', (_, later) => {
    const day = world();
    expect(isClosed(day)).toBe(false);
    later(day);
    expect(isClosed(day)).toBe(true);
    expect(factsOf(day).isDayClosed('P-1', '2026-06-30')).toBe(false);
  });
});

describe('plans', () => {
  it('hold for their own event: a unit goes from one to the next', () => {
    const day = new Day();
    day.unit('P-1');
    day.well('MW-1');
    event(day, 'event-1', { rinsatePer: 'unit-and-day' });
    event(day, 'event-2', {});
    day.decon('P-1', '07:00', '07:30');
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
    day.decon('P-1', '09:10', '09:30');
    day.visit('v2', 'MW-1', '05-05 08:00', '05-05 09:00', { event: 'event-2' });
    day.setUp('v2', 'P-1', '05-05 08:00');
    day.decon('P-1', '05-06 08:00', '05-06 08:30');
    expect(codesOf(day)).toEqual(['rinsate-missing P-1 2026-05-04']);
  });

  it('ask for lots where a part is used, and judge a decon by the event that it names or the visit before', () => {
    const day = new Day();
    day.unit('P-1', { type: 'bladder-pump' });
    day.part('bladder-1', { type: 'bladder' });
    event(day, 'event-1', { partLotsRequired: ['bladder'] });
    day.decon('P-1', '07:00', '07:30');
    day.change('P-1', 'bladder-1', 'installed', '07:40');
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
    day.decon('P-1', '05-05 07:00', '05-05 07:30');
    expect(codesOf(day)).toEqual(['part-lot-missing P-1 bladder-1']);
    event(day, 'event-2', {});
    for (const visit of day.lists.visits) Object.assign(visit.fields, { event: 'event-2' });
    expect(codesOf(day)).toEqual([]);
  });
});

describe('what was known of a well', () => {
  it('is the last result of each analyte that was sampled before the unit went in, whenever it was reported', () => {
    const day = new Day();
    day.unit('P-1');
    day.well('MW-1', { assignedClass: 'low' });
    for (const [id, date] of [
      ['v1', '03-01'],
      ['v2', '04-01'],
      ['v3', '05-01'],
    ] as const) {
      day.pumped(id, 'MW-1', 'P-1', `${date} 08:00`, `${date} 09:00`);
      day.sample(`S-${id}`, id, `${date} 08:50`);
    }
    day.result({ sample: 'S-v3' }, '300');
    day.result({ sample: 'S-v2' }, '20');
    day.result({ sample: 'S-v1' }, '1');
    day.result({ sample: 'S-v1' }, '7', { analyte: 'benzene', casNumber: '71-43-2' });
    const { index, levelOf } = factsOf(day);
    const levels = index.lines
      .get('P-1')
      ?.contacts.map((contact) => levelOf(contact).results.map(({ value }) => value));
    expect(levels).toEqual([[], ['1', '7'], ['20', '7']]);
    expect(levelOf({ well: 'MW-1', from: index.lines.get('P-1')?.contacts[0]?.from as never }).assignedClass).toBe(
      'low',
    );
  });
});
