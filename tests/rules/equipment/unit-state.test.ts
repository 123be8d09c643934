import { describe, expect, it } from 'vitest';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import { unitState, unitStates } from '../../../src/rules/equipment/unit-state.ts';
import { at, Day, ENDED_IS_CLEAN, voided } from './equipment-day.ts';

function world(): Day {
  const day = new Day();
  for (const well of ['MW-1', 'MW-2', 'MW-3']) day.well(well);
  day.unit('P-1');
  return day;
}

const state = (day: Day, unit = 'P-1') => unitState(equipmentIndex(day.lists, ENDED_IS_CLEAN), unit);
const states = (day: Day, unit = 'P-1') =>
  unitStates(equipmentIndex(day.lists, ENDED_IS_CLEAN), unit).map(
    (one) => `${one.since?.slice(11, 16) ?? '-'} ${one.state}`,
  );

describe('the state of a unit', () => {
  it('is unknown without records, and of a rental that arrived', () => {
    const day = world();
    expect(state(day)).toEqual({
      unit: 'P-1',
      state: 'unknown',
      since: null,
      because: { record: 'P-1', kind: 'unit' },
      sentence: 'No record says that P-1 is clean: clean it before its first well.',
      well: null,
    });
    day.unit('R-1', { ownership: 'rented' });
    const arrived = day.service('R-1', 'arrived', '07:00');
    expect(state(day, 'R-1')).toMatchObject({
      state: 'unknown',
      since: at('07:00'),
      because: { record: arrived.id, kind: 'unit-service' },
    });
    expect(state(day, 'R-1')?.sentence).toBe(
      'R-1 arrived on 2026-05-04 07:00 and no complete decon is recorded since: clean it before its first well.',
    );
    expect(state(day, 'nobody knows it')).toBeUndefined();
  });

  it('says of a cleaning that is over what became of it, and not that it goes on', () => {
    const day = world();
    day.decon('P-1', '07:00');
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
    day.decon('P-1', '09:10', '10:30');
    day.pumped('v2', 'MW-2', 'P-1', '09:40', '10:00');
    const all = unitStates(equipmentIndex(day.lists, ENDED_IS_CLEAN), 'P-1');
    expect(all.filter((one) => one.state === 'being-cleaned').map(({ sentence }) => sentence)).toEqual([
      'The decon of P-1 began on 2026-05-04 07:00 and did not make it clean. The last rinse is missing.',
      'The decon of P-1 began on 2026-05-04 09:10; before it was over, something else came.',
    ]);
  });

  it('goes from clean into the well, to used, to being cleaned and back', () => {
    const day = world();
    day.decon('P-1', '07:00', '07:30');
    const setUp = day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
    expect(states(day)).toEqual(['- unknown', '07:00 being-cleaned', '07:30 clean', '08:00 in-a-well', '09:00 used']);
    const open = day.decon('P-1', '09:10');
    expect(state(day)).toMatchObject({ state: 'being-cleaned', because: { record: open.id, kind: 'decon' } });
    expect(state(day)?.sentence).toBe(
      'The decon of P-1 begun on 2026-05-04 09:10 does not make it clean yet. The last rinse is missing.',
    );
    const all = unitStates(equipmentIndex(day.lists, ENDED_IS_CLEAN), 'P-1');
    expect(all.find((one) => one.state === 'being-cleaned')?.sentence).toBe(
      'The decon of P-1 began on 2026-05-04 07:00 and was complete on 2026-05-04 07:30.',
    );
    const used = unitStates(equipmentIndex(day.lists, ENDED_IS_CLEAN), 'P-1').find((one) => one.state === 'used');
    expect(used).toMatchObject({ because: { record: 'v1', kind: 'visit' }, well: null });
    const inWell = unitStates(equipmentIndex(day.lists, ENDED_IS_CLEAN), 'P-1').find(
      (one) => one.state === 'in-a-well',
    );
    expect(inWell).toMatchObject({ because: { record: setUp.id, kind: 'pump-set-up' }, well: 'MW-1' });
    expect(inWell?.sentence).toBe('P-1 has been down MW-1 since 2026-05-04 08:00.');
  });

  it('is in its well until a record says otherwise where no leaving is recorded', () => {
    const day = world();
    day.visit('v1', 'MW-1', '08:00');
    day.setUp('v1', 'P-1', '08:10');
    expect(state(day)).toMatchObject({ state: 'in-a-well', well: 'MW-1' });
    day.decon('P-1', '09:00', '09:30');
    expect(states(day)).toEqual(['- unknown', '08:10 in-a-well', '09:00 being-cleaned', '09:30 clean']);
  });

  it('is clean by each decon that was carried through, also where another was complete meanwhile', () => {
    const day = world();
    day.decon('P-1', '08:03', '08:09');
    day.decon('P-1', '08:06', '08:12');
    day.decon('P-1', '08:10', '08:11', { labelText: 'incomplete' });
    expect(states(day)).toEqual([
      '- unknown',
      '08:03 being-cleaned',
      '08:06 being-cleaned',
      '08:09 clean',
      '08:10 being-cleaned',
      '08:12 clean',
    ]);
  });

  it('goes back to used where the next well comes before the decon is complete', () => {
    const day = world();
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
    day.decon('P-1', '09:10');
    day.pumped('v2', 'MW-2', 'P-1', '10:00', '11:00');
    expect(states(day).at(-1)).toBe('11:00 used');
    expect(state(day)?.sentence).toBe('P-1 was used at MW-2 and no complete decon is recorded since.');
  });

  it('stays clean where it is dedicated to its well, and only there', () => {
    const day = world();
    day.unit('D-1', { use: 'dedicated', dedicatedTo: 'MW-1' });
    day.pumped('v1', 'MW-1', 'D-1', '08:00', '09:00');
    expect(states(day, 'D-1')).toEqual(['- clean', '08:00 in-a-well', '- clean']);
    expect(state(day, 'D-1')?.sentence).toBe('D-1 is dedicated to MW-1 and has been in no other well.');
    day.pumped('v2', 'MW-2', 'D-1', '10:00', '11:00');
    expect(state(day, 'D-1')?.state).toBe('used');
    day.pumped('v3', 'MW-1', 'D-1', '12:00', '13:00');
    expect(state(day, 'D-1')?.state).toBe('used');
  });

  it('is clean of what is disposable and new, and used after its well', () => {
    const day = world();
    day.unit('B-1', { type: 'tubing', use: 'disposable' });
    expect(state(day, 'B-1')).toMatchObject({
      state: 'clean',
      sentence: 'B-1 is disposable and has not been in a well.',
    });
    day.visit('v1', 'MW-1', '08:00', '09:00');
    day.use('v1', 'B-1', '08:10', '08:50');
    expect(state(day, 'B-1')).toMatchObject({ state: 'used', since: at('08:50') });
  });

  it('is clean of what stays dry, wherever it stands', () => {
    const day = world();
    day.unit('S-1', { type: 'peristaltic-pump' });
    day.visit('v1', 'MW-1', '08:00', '09:00');
    day.setUp('v1', 'S-1', '08:10');
    expect(states(day, 'S-1')).toEqual(['- clean', '08:10 in-a-well', '- clean']);
    expect(state(day, 'S-1')?.sentence).toBe('No part of S-1 touches the water: there is nothing to clean.');
  });

  it('is out of service until it is back, and says where it is stuck', () => {
    const day = world();
    day.visit('v1', 'MW-1', '08:00');
    day.setUp('v1', 'P-1', '08:10');
    day.service('P-1', 'out-of-service', '08:30');
    expect(state(day)).toMatchObject({
      state: 'out-of-service',
      well: 'MW-1',
      sentence: 'P-1 has been out of service since 2026-05-04 08:30. It is at MW-1.',
    });
    day.decon('P-1', '10:00', '10:30');
    day.service('P-1', 'back-in-service', '12:00');
    expect(state(day)).toMatchObject({ state: 'clean', since: at('10:30') });
  });

  it('counts a tape from its first reading in a visit to its last', () => {
    const day = world();
    day.unit('T-1', { type: 'water-level-tape' });
    day.visit('v1', 'MW-1', '08:00', '09:30');
    for (const time of ['09:00', '08:10', '08:40']) day.level('v1', 'T-1', time);
    day.decon('T-1', '09:00', '09:02');
    expect(states(day, 'T-1')).toEqual(['- unknown', '08:10 in-a-well', '09:00 being-cleaned', '09:02 clean']);
  });

  it('is not clean by a wipe between two levels of one visit', () => {
    const day = world();
    day.unit('T-1', { type: 'water-level-tape' });
    day.visit('v1', 'MW-1', '08:00', '09:30');
    day.level('v1', 'T-1', '08:10');
    day.decon('T-1', '08:15', '08:16');
    day.level('v1', 'T-1', '09:20');
    expect(state(day, 'T-1')?.state).toBe('used');
  });

  it('says on the line of a meter and of a flow cell', () => {
    const day = world();
    day.unit('M-1', { type: 'multi-parameter-meter' });
    day.unit('C-1', { type: 'flow-cell' });
    day.visit('v1', 'MW-1', '08:00');
    day.setUp('v1', 'P-1', '08:10', { flowCell: 'C-1' });
    day.reading('v1', 'M-1', '08:20');
    day.reading('v1', 'M-1', '08:40');
    expect(state(day, 'C-1')?.sentence).toBe('C-1 has been on the line at MW-1 since 2026-05-04 08:10.');
    expect(states(day, 'M-1')).toEqual(['- unknown', '08:20 in-a-well', '08:20 used']);
  });

  it('takes another pump in the same visit for the end of the first', () => {
    const day = world();
    day.unit('P-2');
    day.visit('v1', 'MW-1', '08:00');
    day.setUp('v1', 'P-1', '08:10');
    day.setUp('v1', 'P-1', '08:20');
    const swap = day.setUp('v1', 'P-2', '08:40');
    expect(state(day)).toMatchObject({ state: 'used', since: at('08:40'), because: { record: swap.id } });
    expect(state(day, 'P-2')?.state).toBe('in-a-well');
  });

  it('ends a stay where the pump is said to have been pulled, before the crew left', () => {
    const day = world();
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
    day.use('v1', 'P-1', '08:00', '08:45');
    expect(state(day)).toMatchObject({ state: 'used', since: at('08:45') });
  });

  it('counts nothing that was voided, and follows a visit to the well that it was moved to', () => {
    const day = world();
    day.visit('v1', 'MW-2', '08:00');
    day.setUp('v1', 'P-1', '08:10');
    expect(state(day)).toMatchObject({ state: 'in-a-well', well: 'MW-2' });
    Object.assign(day.lists.visits[0]?.fields ?? {}, { well: 'MW-3' });
    expect(state(day)?.well).toBe('MW-3');
    const decon = day.decon('P-1', '09:00', '09:30');
    expect(state(day)?.state).toBe('clean');
    voided(decon);
    expect(state(day)?.state).toBe('in-a-well');
    for (const visit of day.lists.visits) voided(visit);
    expect(state(day)?.state).toBe('unknown');
  });

  it('is placed by the clocks: a phone an hour slow recorded the decon after the well, not before', () => {
    const day = world();
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '08:40');
    day.decon('P-1', '07:45', '07:55', {}, { client: 'phone-2', differenceMs: 3_600_000 });
    expect(state(day)).toMatchObject({ state: 'clean', since: at('07:55') });
    day.lists.decons[0] = { ...(day.lists.decons[0] as (typeof day.lists.decons)[number]), clock: null };
    expect(state(day)?.state).toBe('used');
  });

  it('leaves a time from paper as it was written, whatever the phone that took it', () => {
    const day = world();
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '08:40');
    day.decon('P-1', '07:45', '07:55', {}, { differenceMs: 3_600_000, captured: 'from-paper' });
    expect(state(day)?.state).toBe('used');
  });
});
