import { describe, expect, it } from 'vitest';
import { equipmentFacts } from '../../../src/rules/equipment/equipment-facts.ts';
import { equipmentFindings } from '../../../src/rules/equipment/faults.ts';
import { Day, ENDED_IS_CLEAN } from './equipment-day.ts';

/** A tape in MW-1, in MW-2, and in MW-1 again during one visit there, with these cleanings. */
function toAndFro(...cleanings: readonly (readonly [string, string])[]): Day {
  const day = new Day();
  day.unit('T-1', { type: 'water-level-tape' });
  day.well('MW-1');
  day.well('MW-2');
  day.visit('v1', 'MW-1', '07:55', '09:00');
  day.visit('v2', 'MW-2', '08:08', '08:15');
  day.level('v1', 'T-1', '08:00');
  day.level('v2', 'T-1', '08:10');
  day.level('v1', 'T-1', '08:20');
  day.decon('T-1', '07:30', '07:35');
  for (const [began, ended] of cleanings) day.decon('T-1', began, ended);
  return day;
}

function codesOf(day: Day): readonly string[] {
  const findings = equipmentFindings(equipmentFacts(day.lists, { judgeDecon: ENDED_IS_CLEAN }));
  return findings.map(({ code }) => code);
}

describe('a tape that goes to and fro between two wells', () => {
  it('raises nothing where it is wiped each time', () => {
    expect(codesOf(toAndFro(['08:03', '08:05'], ['08:13', '08:15'], ['08:25', '08:27']))).not.toContain(
      'used-unit-into-well',
    );
  });

  it('is asked about where it was not wiped before the second, or only after it', () => {
    expect(codesOf(toAndFro())).toContain('used-unit-into-well');
    expect(codesOf(toAndFro(['08:13', '08:15']))).toContain('used-unit-into-well');
  });

  it('and where the wiping was not finished', () => {
    const day = toAndFro();
    day.decon('T-1', '08:03');
    expect(codesOf(day)).toContain('used-unit-into-well');
  });
});
