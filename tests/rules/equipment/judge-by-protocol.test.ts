import { describe, expect, it } from 'vitest';
import { bladderPumpNewParts } from '../../../src/catalog/decon/protocols/bladder-pump-new-parts.ts';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import { judgeByProtocol } from '../../../src/rules/equipment/judge-by-protocol.ts';
import { unitState } from '../../../src/rules/equipment/unit-state.ts';
import { at, Day, voided } from './equipment-day.ts';

const PARTS: Readonly<Record<string, string>> = { 'new-bladder': 'bladder-2', 'new-tubing': 'line-2' };

/** A bladder pump cleaned by its protocol, step after step, without those left out. */
function cleaned(leftOut: readonly string[] = [], hour = '09', stamp?: Parameters<Day['decon']>[4]): Day {
  const day = new Day();
  day.unit('P-1', { type: 'bladder-pump' });
  day.part('bladder-1', { type: 'bladder' });
  day.part('bladder-2', { type: 'bladder' });
  day.part('line-2', { type: 'tubing' });
  day.change('P-1', 'bladder-1', 'installed', '07:00');
  day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
  const decon = day.decon(
    'P-1',
    `${hour}:10`,
    `${hour}:50`,
    { protocol: bladderPumpNewParts.id, wasteTo: 'drum 1' },
    stamp,
  );
  for (const [place, step] of bladderPumpNewParts.steps.entries()) {
    if (leftOut.includes(step.id)) continue;
    for (let turn = 0; turn < Number(step.leastTimes?.value ?? 1); turn += 1) {
      const fluid = step.fluids[0];
      const part = PARTS[step.id];
      const fields = { ...(fluid ? { fluid } : {}), ...(part ? { part } : {}) };
      day.step(decon.id, step.id, `${hour}:${15 + place * 3 + turn}`, fields, stamp);
    }
  }
  return day;
}

function stateOf(day: Day) {
  return unitState(equipmentIndex(day.lists, judgeByProtocol(day.lists)), 'P-1');
}

describe('a decon judged by its protocol', () => {
  it('makes the pump clean with every step and the new parts', () => {
    expect(stateOf(cleaned())).toMatchObject({ state: 'clean' });
  });

  it.each(['distilled-rinse', 'new-bladder'])('leaves it being cleaned without "%s"', (step) => {
    const state = stateOf(cleaned([step]));
    expect(state?.state).toBe('being-cleaned');
    expect(state?.sentence).toContain('incomplete');
  });

  it('takes a new bladder by a change of parts after the last step and before the next well', () => {
    const day = cleaned(['new-bladder']);
    day.change('P-1', 'bladder-2', 'installed', '09:55');
    day.well('MW-2');
    day.pumped('v2', 'MW-2', 'P-1', '10:30', '11:00');
    const { life } = equipmentIndex(day.lists, judgeByProtocol(day.lists)).lines.get('P-1') ?? {};
    expect(life?.spans.map(({ state }) => state)).toEqual([
      'unknown',
      'in-a-well',
      'used',
      'being-cleaned',
      'clean',
      'in-a-well',
      'used',
    ]);
  });

  it('does not take the old bladder for a new one, nor a change that was voided', () => {
    const day = cleaned(['new-bladder']);
    day.change('P-1', 'bladder-1', 'installed', '09:30');
    expect(stateOf(day)?.state).toBe('being-cleaned');
    const other = cleaned(['new-bladder']);
    voided(other.change('P-1', 'bladder-2', 'installed', '09:30'));
    expect(stateOf(other)?.state).toBe('being-cleaned');
  });

  describe('by a phone whose clock is three hours behind', () => {
    const behind = { client: 'phone-2', differenceMs: 3 * 3_600_000 };

    it('takes the new part that a partner with a right clock records in between', () => {
      const day = cleaned(['new-bladder'], '06', behind);
      day.change('P-1', 'bladder-2', 'installed', '09:30');
      expect(stateOf(day)?.state).toBe('clean');
    });

    it('and the step that the partner records, in its place', () => {
      const day = cleaned(['distilled-rinse'], '06', behind);
      const place = bladderPumpNewParts.steps.findIndex(({ id }) => id === 'distilled-rinse');
      const fluid = bladderPumpNewParts.steps[place]?.fluids[0];
      const [decon] = day.lists.decons;
      for (const turn of [0, 1, 2])
        day.step(decon?.id ?? '', 'distilled-rinse', `09:${15 + place * 3 + turn}`, { ...(fluid ? { fluid } : {}) });
      expect(stateOf(day)?.state).toBe('clean');
    });

    it.each(['06:50', '09:50'])('and an end that was written later, at %s by its own clock or a right one', (ended) => {
      const day = cleaned([], '06', { ...behind, rev: 2 });
      for (const { fields } of day.lists.decons) Object.assign(fields, { ended: at(ended) });
      day.well('MW-2');
      day.pumped('v2', 'MW-2', 'P-1', '10:30', '11:00');
      const { decons } = equipmentIndex(day.lists, judgeByProtocol(day.lists)).lines.get('P-1') ?? {};
      expect(decons?.map(({ until, standing }) => [until.ms, standing.isClean])).toEqual([
        [Date.parse(at('09:50')), true],
      ]);
    });

    it('and not a part that the partner put in before it began', () => {
      const day = cleaned(['new-bladder'], '06', behind);
      day.change('P-1', 'bladder-2', 'installed', '08:30');
      expect(stateOf(day)?.state).toBe('being-cleaned');
    });
  });
});
