import { describe, expect, it } from 'vitest';
import { bladderPumpNewParts } from '../../../src/catalog/decon/protocols/bladder-pump-new-parts.ts';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import { judgeByProtocol } from '../../../src/rules/equipment/judge-by-protocol.ts';
import { unitState } from '../../../src/rules/equipment/unit-state.ts';
import { Day, voided } from './equipment-day.ts';

const PARTS: Readonly<Record<string, string>> = { 'new-bladder': 'bladder-2', 'new-tubing': 'line-2' };

/** A bladder pump cleaned by its protocol, step after step, without those left out. */
function cleaned(leftOut: readonly string[] = []): Day {
  const day = new Day();
  day.unit('P-1', { type: 'bladder-pump' });
  day.part('bladder-1', { type: 'bladder' });
  day.part('bladder-2', { type: 'bladder' });
  day.part('line-2', { type: 'tubing' });
  day.change('P-1', 'bladder-1', 'installed', '07:00');
  day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
  const decon = day.decon('P-1', '09:10', '09:50', { protocol: bladderPumpNewParts.id, wasteTo: 'drum 1' });
  for (const [at, step] of bladderPumpNewParts.steps.entries()) {
    if (leftOut.includes(step.id)) continue;
    for (let turn = 0; turn < Number(step.leastTimes?.value ?? 1); turn += 1) {
      const fluid = step.fluids[0];
      const part = PARTS[step.id];
      day.step(decon.id, step.id, `09:${15 + at * 3 + turn}`, {
        ...(fluid ? { fluid } : {}),
        ...(part ? { part } : {}),
      });
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
});
