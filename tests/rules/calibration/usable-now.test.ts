import { describe, expect, it } from 'vitest';
import type { CheckLimitSet } from '../../../src/catalog/calibration/check-limit-set.ts';
import { CHECK_LIMIT_SETS } from '../../../src/catalog/calibration/check-limit-sets.ts';
import type { Parameter } from '../../../src/catalog/parameters.ts';
import type { CalibrationCheck } from '../../../src/rules/calibration/check.ts';
import { usableNow } from '../../../src/rules/calibration/usable-now.ts';
import { calibration, check } from './check-parts.ts';

const FLORIDA = CHECK_LIMIT_SETS['florida-field-testing'];
const USGS = CHECK_LIMIT_SETS['usgs-field-manual'];

function ask(
  checks: readonly CalibrationCheck[],
  set: CheckLimitSet = USGS,
  now = '09:00',
  parameter: Parameter = 'ph',
) {
  const given = { meter: 'meter 1', parameters: [parameter], now: `2018-09-04T${now}:00-04:00`, longestH: 8 };
  const [sensor] = usableNow(set, checks, given);
  if (sensor === undefined) throw new Error('no answer');
  return sensor;
}

const ph = (at: string, reading: string, value = '7.00') => check(at, 'ph', reading, { valueAtTemperature: value });
const setPh = (at: string) => calibration(at, 'ph', { nominal: '7.00' });

describe('may this meter be used now', () => {
  it('yes after a pass, until the pass is too old', () => {
    expect(ask([ph('07:30', '7.05')])).toEqual({
      parameter: 'ph',
      usable: true,
      reasons: ['pH passed its check at 2018-09-04 07:30. A check after the last reading is still owed.'],
      cautions: [],
      until: '2018-09-04T19:30:00.000Z',
    });
    expect(ask([ph('07:30', '7.05')], USGS, '15:30').usable).toBe(true);
    expect(ask([ph('07:30', '7.05')], USGS, '15:31')).toMatchObject({ usable: false, until: null });
  });

  it('no where nothing is recorded, or only of another meter', () => {
    expect(ask([]).reasons).toEqual([
      'No calibration and no check of this meter is recorded: calibrate and check it first.',
    ]);
    expect(ask([{ ...ph('07:30', '7.05'), meter: 'meter 2' }]).usable).toBe(false);
  });

  it('no after a failed check, with what failed and what to do', () => {
    const sensor = ask([setPh('07:00'), ph('07:30', '7.25')]);
    expect(sensor.usable).toBe(false);
    expect(sensor.reasons[0]).toContain('failed. pH fails: 7.25 against 7.00 pH');
    expect(sensor.reasons[0]).toContain('fresh portion');
  });

  it('no where the check cannot be judged', () => {
    expect(ask([check('07:30', 'ph', undefined, { valueAtTemperature: '7.00' })]).reasons[0]).toContain(
      'cannot be judged',
    );
  });

  it('a calibration alone is enough for one document and not for another', () => {
    expect(ask([setPh('07:30')]).reasons[0]).toContain('pH was calibrated at 2018-09-04 07:30');
    expect(ask([setPh('07:30')], FLORIDA).reasons[0]).toContain('not checked since');
    expect(ask([setPh('07:30'), ph('07:35', '7.1')], FLORIDA).usable).toBe(true);
  });

  it('does not count a check that is recorded for later, and warns of the clocks', () => {
    const sensor = ask([ph('07:30', '7.05'), ph('16:00', '7.50')]);
    expect(sensor.usable).toBe(true);
    expect(sensor.cautions).toEqual(['A check is recorded for later than now and is not counted: look at the clocks.']);
    expect(ask([ph('07:30', '7.05'), check('16:00', 'orp', '1', {})]).cautions).toEqual([]);
  });

  it('warns of drift between two checks that both pass', () => {
    const sensor = ask([ph('07:30', '6.93'), ph('12:00', '7.06')], USGS, '12:30');
    expect(sensor.usable).toBe(true);
    expect(sensor.cautions).toEqual([
      'pH moved by 0.13 between two checks in one standard; more than 0.10 asks for a calibration (county file, doc 928498, page 94).',
    ]);
    expect(ask([ph('07:30', '6.93'), ph('12:00', '7.03')], USGS, '12:30').cautions).toEqual([]);
    expect(ask([ph('07:30', '6.93'), ph('12:00', '10.06', '10.01')], USGS, '12:30').cautions).toEqual([]);
  });

  it('sees drift in a buffer that warmed, and none where no protocol names a limit', () => {
    expect(ask([ph('07:30', '6.98', '7.04'), ph('12:00', '7.07', '6.99')], USGS, '12:30').cautions).toHaveLength(1);
    const orp = (at: string, reading: string) => check(at, 'orp', reading, { valueAtTemperature: '231' });
    expect(ask([orp('07:30', '226'), orp('12:00', '236')], USGS, '12:30', 'orp').cautions).toEqual([]);
    expect(ask([setPh('07:30'), ph('12:00', '7.05')], USGS, '12:30').cautions).toEqual([]);
  });

  it('says where the document names no limit at all', () => {
    const set: CheckLimitSet = { ...USGS, limits: USGS.limits.filter(({ parameter }) => parameter !== 'orp') };
    const sensor = ask([check('07:30', 'orp', '231', { valueAtTemperature: '231' })], set, '09:00', 'orp');
    expect(sensor).toMatchObject({ usable: false });
    expect(sensor.cautions).toEqual([`${USGS.document} names no limit for ORP.`]);
  });

  it('answers each parameter asked for, in their order', () => {
    const given = {
      meter: 'meter 1',
      parameters: ['turbidity', 'ph'] as const,
      now: '2018-09-04T09:00:00-04:00',
      longestH: 8,
    };
    const answers = usableNow(USGS, [ph('07:30', '7.05')], given, { strictness: 'stricter' });
    expect(answers.map(({ parameter, usable }) => [parameter, usable])).toEqual([
      ['turbidity', false],
      ['ph', true],
    ]);
  });
});
