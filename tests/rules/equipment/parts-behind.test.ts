import { describe, expect, it } from 'vitest';
import { trailOfSample } from '../../../src/rules/equipment/contamination-trail.ts';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import { samplesBehindBlank } from '../../../src/rules/equipment/samples-behind-blank.ts';
import { at, Day, ENDED_IS_CLEAN } from './equipment-day.ts';
import { BY_BLANK } from './judge-blank.ts';

const index = (day: Day) => equipmentIndex(day.lists, ENDED_IS_CLEAN);
const behind = (day: Day, sample: string) => trailOfSample(index(day), sample)?.behind.map(({ carrier }) => carrier.id);
const stays = (day: Day) =>
  (index(day).staysOfUnit.get('P-1') ?? []).map(({ part, until, endedBy }) => [part, until?.at ?? null, endedBy]);

function pumped(): Day {
  const day = new Day();
  day.unit('P-1');
  day.well('MW-1');
  day.pumped('v1', 'MW-1', 'P-1', '09:38', '09:40');
  day.sample('S-1', 'v1', '09:39');
  for (const id of ['bladder-1', 'bladder-2', 'bladder-3']) day.part(id, { type: 'bladder' });
  return day;
}

describe('the soft parts behind a sample', () => {
  it('[D8] are those that were on the pump: one that came on seconds after it left is not', () => {
    const day = pumped();
    day.change('P-1', 'bladder-1', 'installed', '07:45');
    const later = day.change('P-1', 'bladder-2', 'installed', '09:40');
    Object.assign(later.fields.observed, { at: at('09:40').replace(':00-', ':09-') });
    expect(behind(day, 'S-1')).toEqual(['P-1', 'bladder-1']);
    const [, stay] = index(day).staysOfUnit.get('P-1') ?? [];
    expect([stay?.part, stay?.from.at]).toEqual(['bladder-2', later.fields.observed.at]);
  });

  it('[D8] are told once, also where one was taken off and put on again, of a blank as well', () => {
    const day = pumped();
    day.change('P-1', 'bladder-1', 'installed', '07:45');
    day.change('P-1', 'bladder-1', 'removed', '09:39');
    day.change('P-1', 'bladder-1', 'installed', '09:39');
    day.blank('EB-1', 'P-1', '09:55');
    day.result({ blank: 'EB-1' }, '0.8');
    day.result({ sample: 'S-1' }, '1.0');
    expect(stays(day)).toHaveLength(2);
    expect(behind(day, 'S-1')).toEqual(['P-1', 'bladder-1']);
    const [trail] = samplesBehindBlank(index(day), 'EB-1', BY_BLANK);
    expect(trail?.samples.map(({ through }) => through.map(({ id }) => id))).toEqual([['P-1', 'bladder-1']]);
  });

  it('[D8] are no bladder that another one took the place of, though it had been in no well', () => {
    const day = pumped();
    day.change('P-1', 'bladder-1', 'installed', '07:00');
    day.change('P-1', 'bladder-2', 'installed', '08:00');
    expect(stays(day)).toEqual([
      ['bladder-1', at('08:00'), 'replaced'],
      ['bladder-2', null, null],
    ]);
    expect(behind(day, 'S-1')).toEqual(['P-1', 'bladder-2']);
  });

  it('[D8] are none that were on before a decon that put a new one in; two that it put in both stay', () => {
    const day = pumped();
    for (const id of ['old', 'water', 'air']) day.part(id);
    day.change('P-1', 'old', 'installed', '07:00');
    const { id } = day.decon('P-1', '08:00', '08:30', { protocol: 'pfas-free-rinse' });
    day.step(id, 'new-tubing', '08:10', { part: 'water' });
    day.step(id, 'new-tubing', '08:11', { part: 'air' });
    expect(stays(day)).toEqual([
      ['old', at('08:10'), 'replaced'],
      ['water', null, null],
      ['air', null, null],
    ]);
    expect(behind(day, 'S-1')).toEqual(['P-1', 'water', 'air']);
  });
});
