import { describe, expect, it } from 'vitest';
import { intakePosition } from '../../../src/rules/questions/intake-position.ts';

const ask = (input: object) => intakePosition.answer(intakePosition.input.parse(input));
const well = { depthToWaterFt: '12.40', depthToBottomFt: '30.2', screenTopFt: '20.0', screenBottomFt: '30.0' };

describe('how deep does the intake go?', () => {
  it('goes to the middle of the saturated screen', () => {
    expect(ask(well)).toMatchObject({
      intakeFt: '25.0',
      screenState: 'submerged',
      clearFromFt: '20.0',
      clearToFt: '28.2',
    });
    expect(ask({ ...well, depthToWaterFt: '24.00' })).toMatchObject({ intakeFt: '27.00', screenState: 'partly' });
  });

  it('uses the depth of the last event where it still fits, and says why where it does not', () => {
    expect(ask({ ...well, lastIntakeFt: '26.5' })).toMatchObject({ intakeFt: '26.5', middleFt: '25.0', conflicts: [] });
    const fallen = ask({ ...well, depthToWaterFt: '27.00', lastIntakeFt: '26.5' });
    expect(fallen.intakeFt).toBe('28.50');
    expect(fallen.reasons[0]).toContain('no longer fits');
  });

  it('shows what speaks against the middle and against a planned depth', () => {
    const answer = ask({ ...well, depthToWaterFt: '27.10', depthToBottomFt: '30.0', plannedIntakeFt: '26.9' });
    expect(answer.conflicts.map((one) => one.kind)).toEqual(['near-bottom']);
    expect(answer.plannedConflicts.map((one) => one.kind)).toEqual(['above-water']);
  });

  it('says so where no depth is clear', () => {
    const answer = ask({ ...well, depthToWaterFt: '28.50', depthToBottomFt: '30.0' });
    expect(answer).toMatchObject({ clearFromFt: null, clearToFt: null });
    expect(answer.reasons[1]).toBe('No depth clears the bottom by 2 ft in 1.50 ft of water: the plan decides.');
  });

  it('takes the clearance of the plan', () => {
    expect(ask({ ...well, bottomClearanceFt: '3' }).clearToFt).toBe('27.2');
  });

  it.each([[{ screenTopFt: undefined }], [{ screenBottomFt: undefined }]])(
    'takes the water column where the screen is not known: %j',
    (part) => {
      const answer = ask({ ...well, ...part });
      expect(answer.intakeFt).toBe('21.30');
      expect(answer.reasons[1]).toContain('whole water column');
    },
  );

  it('warns of a long screen, more of a very long one, and not of a short one', () => {
    const long = (screenTopFt: string) =>
      ask({ ...well, screenTopFt }).cautions.filter((one) => one.includes('screen'));
    expect(long('25.0')).toEqual([]);
    expect(long('24.9')).toHaveLength(1);
    expect(long('19.9')).toHaveLength(2);
  });

  it('refuses a screen without water, and gives no figure', () => {
    const answer = ask({ ...well, depthToWaterFt: '30.1' });
    expect(answer.refused).toContain('no saturated screen');
    expect(answer).toMatchObject({ intakeFt: null, conflicts: [], plannedConflicts: [] });
  });
});
