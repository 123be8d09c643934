import { expect, it } from 'vitest';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import { owedCleaning } from '../../../src/rules/equipment-told/owed-cleaning.ts';
import { DAY, Day, ENDED_IS_CLEAN } from './equipment-day.ts';

const UNITS = ['P-1', 'T-1', 'M-1', 'C-1'];

function used(): Day {
  const day = new Day();
  day.well('MW-1');
  day.unit('P-1');
  day.unit('T-1', { type: 'water-level-tape' });
  day.unit('M-1', { type: 'multi-parameter-meter' });
  day.unit('C-1', { type: 'flow-cell' });
  day.visit('v1', 'MW-1', '08:00', '09:00');
  day.setUp('v1', 'P-1', '08:05', { flowCell: 'C-1' });
  day.level('v1', 'T-1', '08:02');
  day.reading('v1', 'M-1', '08:30');
  return day;
}

const owed = (day: Day, until = DAY) =>
  owedCleaning(equipmentIndex(day.lists, ENDED_IS_CLEAN), UNITS, until).map(({ sentence }) => sentence);

it('a tape, a meter and a flow cell that were used are owed what each kind needs; a pump is told by its own rule', () => {
  expect(owed(used())).toEqual([
    'T-1 was used at MW-1 and no complete decon is recorded since. Wipe it down, and record it.',
    'M-1 was used at MW-1 and no complete decon is recorded since. Wipe and rinse it, and record it.',
    'C-1 was used at MW-1 and no complete decon is recorded since. Wipe and rinse it, and record it.',
  ]);
});

it('nothing is owed of what was cleaned since, nor on a day before it was used', () => {
  const day = used();
  for (const unit of ['T-1', 'M-1']) day.decon(unit, '09:10', '09:12');
  expect(owed(day)).toEqual([expect.stringMatching(/^C-1 was used at MW-1/)]);
  expect(owed(day, '2026-05-03')).toEqual([]);
});
