import { describe, expect, it } from 'vitest';
import { lastRound } from '../../../src/rules/questions/last-round.ts';

const ask = (input: object) => lastRound.answer(lastRound.input.parse(input));
const bare = {
  event: '00000000-0000-7000-8000-000000000001',
  eventName: 'Autumn round',
  visit: '00000000-0000-7000-8000-000000000002',
  arrived: '2025-10-06T09:30:00-05:00',
  method: 'low-flow',
  wentDry: false,
};
const last = { ...bare, outcome: 'sampled', intakeDepthFt: '19.8', depthToBottomFt: '24.9', flowMlPerMin: '200' };

describe('what was done here last round?', () => {
  it('gives the setting again, and the intake fits while it hangs in the water and clear of the bottom', () => {
    const answer = ask({ last, depthToWaterFt: '13.30' });
    expect(answer).toMatchObject({ intakeDepthFt: '19.8', intakeFits: true, flowMlPerMin: '200', wentDry: false });
    expect(answer.reasons).toEqual([
      'Autumn round, 2025-10-06, low-flow: it ended: sampled.',
      'intake at 19.8 ft, flow 200 mL/min.',
    ]);
    expect(answer.cautions).toEqual([
      'Depths compare only below the same measuring point: look whether it was changed since.',
    ]);
  });

  it('says what speaks against that intake today', () => {
    const dropped = ask({ last, depthToWaterFt: '20.50' });
    expect(dropped.intakeFits).toBe(false);
    expect(dropped.reasons.at(-1)).toContain('hangs above the water at 20.50 ft');
    const silted = ask({ last, depthToWaterFt: '13.30', depthToBottomFt: '21.0' });
    expect(silted.reasons.at(-1)).toContain('1.2 ft above the bottom, less than 2 ft');
    expect(ask({ last, depthToWaterFt: '13.30', depthToBottomFt: '21.0', bottomClearanceFt: '1' }).intakeFits).toBe(
      true,
    );
  });

  it('leaves open what cannot be told', () => {
    expect(ask({ last })).toMatchObject({ intakeFits: null });
    expect(ask({ last }).reasons.at(-1)).toContain("needs today's water level");
    expect(ask({ last: bare, depthToWaterFt: '13.30' }).reasons).toEqual([
      'Autumn round, 2025-10-06, low-flow: no outcome was recorded.',
      'The depth of the intake of last round is not known.',
    ]);
    const empty = ask({ last, depthToWaterFt: '30.00' });
    expect(empty.intakeFits).toBeNull();
    expect(empty.reasons).toHaveLength(3);
    expect(ask({ last: { ...last, depthToBottomFt: undefined }, depthToWaterFt: '13.30' }).intakeFits).toBeNull();
  });

  it('warns of a well that gave out and of a pressure that was right for another pump', () => {
    const answer = ask({
      last: {
        ...last,
        wentDry: true,
        pumpType: 'bladder-pump',
        drivePressurePsi: '35',
        refillS: '12',
        dischargeS: '6',
        purgeMin: '40',
        purgedMl: '8000',
        stable: false,
        criteria: 'epa-region-1-low-stress-rev-2',
        criteriaEdition: 'Rev. 2',
        minutesToStableMin: '35',
        call: 'purged-dry',
      },
      depthToWaterFt: '13.30',
    });
    expect(answer).toMatchObject({
      drivePressurePsi: '35',
      refillS: '12',
      dischargeS: '6',
      purgeMin: '40',
      wentDry: true,
    });
    expect(answer.reasons.slice(1)).toEqual([
      'Pump: bladder-pump, intake at 19.8 ft, flow 200 mL/min, drive pressure 35 psi, refill 12 s, discharge 6 s.',
      'Purged for 40 min, volume 8000 mL, the well gave out.',
      'Not stable by epa-region-1-low-stress-rev-2, Rev. 2, first after 35 min, the crew decided: purged-dry.',
    ]);
    expect(answer.cautions[0]).toContain('gave out last round');
    expect(answer.cautions[1]).toContain('site safety plan');
    expect(ask({ last: { ...last, stable: true } }).reasons).toContain('Stable by its criteria.');
  });
});
