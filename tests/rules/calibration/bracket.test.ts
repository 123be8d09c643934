import { describe, expect, it } from 'vitest';
import { CHECK_LIMIT_SETS } from '../../../src/catalog/calibration/check-limit-sets.ts';
import { bracketReadings } from '../../../src/rules/calibration/bracket.ts';
import { bracket, one, sample, sc, setTo } from './bracket-parts.ts';
import { calibration, check } from './check-parts.ts';

/** Florida DEP, training of September 2018, section 3: the printed example. */
const TRAINING = [setTo('07:30', '1000'), sc('07:35', '100', '102'), sc('15:30', '5000', '4900')];

describe('the printed example of the training', () => {
  it('covers 1500 at 10:00 by 1000 set at 07:30, 100 checked at 07:35 and 5000 checked at 15:30', () => {
    expect(one(TRAINING, sample('10:00', '1500'))).toEqual({
      reading: 'sample 10:00',
      standing: 'covered',
      reasons: [],
      before: '2018-09-04T07:35:00-04:00',
      after: '2018-09-04T15:30:00-04:00',
      span: { least: '100', most: '5000' },
    });
  });

  it('does not cover 5200, nor 80: no standard lies beyond them', () => {
    expect(one(TRAINING, sample('10:00', '5200'))).toMatchObject({
      standing: 'in-question',
      reasons: ['Specific conductance 5200 µS/cm is outside the standards that passed, 100 to 5000.'],
    });
    expect(one(TRAINING, sample('10:00', '80')).standing).toBe('in-question');
    expect(one(TRAINING, sample('10:00', '5000')).standing).toBe('covered');
    expect(one(TRAINING, sample('10:00', '100')).standing).toBe('covered');
  });

  it('without the check at the end waits for one', () => {
    const waiting = one(TRAINING.slice(0, 2), sample('10:00', '900'));
    expect(waiting).toMatchObject({ standing: 'pending', after: null });
    expect(waiting.reasons).toEqual([
      'No check after it is recorded yet: check the meter before it is calibrated again.',
    ]);
    expect(one(TRAINING.slice(0, 2), sample('10:00', '1500'))).toMatchObject({
      standing: 'pending',
      reasons: [
        expect.anything(),
        expect.stringContaining('A standard beyond it in the check after it would cover it'),
      ],
    });
  });

  it('without the check after setting is not covered here, though it is by a document that starts from the calibration', () => {
    const checks = [setTo('07:30', '1000'), sc('15:30', '5000', '4900')];
    expect(one(checks, sample('10:00', '1500')).reasons).toEqual([
      'The meter was calibrated at 2018-09-04 07:30 and not checked before this reading.',
    ]);
    expect(one(checks, sample('10:00', '1500'), 'usgs-field-manual').standing).toBe('covered');
  });
});

describe('a failed check', () => {
  const day = [
    setTo('07:30', '1000'),
    sc('07:35', '100', '102'),
    sc('12:00', '1000', '1010'),
    sc('15:30', '1000', '1200'),
  ];
  const readings = ['08:00', '11:00', '12:30', '15:00', '16:00'].map((at) => sample(at, '500'));

  it('puts every reading back to the last pass in question, and none before it', () => {
    expect(bracket(day, readings).map(({ reading, standing }) => [reading, standing])).toEqual([
      ['sample 08:00', 'covered'],
      ['sample 11:00', 'covered'],
      ['sample 12:30', 'in-question'],
      ['sample 15:00', 'in-question'],
      ['sample 16:00', 'in-question'],
    ]);
  });

  it('says since when, and of a reading after it that the last check failed', () => {
    const [, , third, , last] = bracket(day, readings);
    expect(third?.reasons[0]).toBe(
      'The check after it, at 2018-09-04 15:30, failed: this reading is in question, and so is every reading back to 2018-09-04 12:00, when it last passed.',
    );
    expect(last?.reasons[0]).toBe('The last check before it, at 2018-09-04 15:30, failed.');
  });

  it('reaches back to the calibration where the document starts from it', () => {
    const checks = [setTo('07:30', '1000'), sc('15:30', '1000', '1200')];
    expect(one(checks, sample('10:00', '900'), 'usgs-field-manual').reasons[0]).toContain('back to 2018-09-04 07:30');
    const without = [sc('15:30', '1000', '1200')];
    expect(one(without, sample('10:00', '900')).reasons).toEqual([
      'No check or calibration of this meter is recorded before it.',
      'The check after it, at 2018-09-04 15:30, failed: this reading is in question.',
    ]);
  });

  it('is mended by a fresh portion of the same standard, and not by another standard', () => {
    const fresh = [...day.slice(0, 3), sc('15:30', '1000', '1200'), sc('15:40', '1000', '1005')];
    expect(one(fresh, sample('15:00', '500')).standing).toBe('covered');
    const other = [...day.slice(0, 3), sc('15:30', '1000', '1200'), sc('15:40', '100', '101')];
    expect(one(other, sample('15:00', '500')).standing).toBe('in-question');
    const late = [...day.slice(0, 3), sc('15:30', '1000', '1200'), sc('16:30', '1000', '1005')];
    expect(one(late, sample('15:00', '500')).standing).toBe('in-question');
  });
});

describe('checks less than half an hour apart with a reading between them', () => {
  const at0910 = sample('09:10', '500');

  it('after a failed check put it in question, though the next try passed', () => {
    const day = [sc('08:00', '1000', '1200'), sc('08:25', '1000', '1005'), sc('17:00', '1000', '1005')];
    expect(one(day, sample('08:10', '500')).reasons[0]).toBe('The last check before it, at 2018-09-04 08:00, failed.');
    expect(one([sc('08:00', '100', '101'), ...day], sample('08:26', '500')).standing).toBe('covered');
  });

  it('close it: it waits for no other', () => {
    const day = [sc('09:00', '100', '101'), sc('09:25', '1000', '1005')];
    expect(one(day, at0910)).toMatchObject({
      standing: 'covered',
      before: '2018-09-04T09:00:00-04:00',
      after: '2018-09-04T09:25:00-04:00',
    });
  });

  it('that fail after a pass are told of as after it', () => {
    const day = [sc('09:00', '1000', '1005'), sc('09:25', '1000', '1200')];
    expect(one(day, at0910).reasons).toEqual([
      'The check after it, at 2018-09-04 09:25, failed: this reading is in question, and so is every reading back to 2018-09-04 09:00, when it last passed.',
      'Specific conductance 500 µS/cm is outside the standards that passed, 1000 to 1000.',
    ]);
  });
});

describe('standards of long ago', () => {
  const yearOld = (nominal: string) => ({ ...sc('09:00', nominal, nominal), at: '2017-09-04T09:00:00-04:00' });
  const today = [sc('07:35', '1000', '1005'), sc('16:00', '1000', '1005')];

  it('do not widen what is covered today', () => {
    expect(one([yearOld('100'), ...today], sample('10:00', '500'))).toMatchObject({
      standing: 'in-question',
      span: { least: '1000', most: '1000' },
    });
  });

  it('count as long as the plan lets a check vouch', () => {
    const yesterday = { ...sc('08:00', '100', '101'), at: '2018-09-03T08:00:00-04:00' };
    const within = (longestH: number) =>
      bracketReadings(CHECK_LIMIT_SETS['florida-field-testing'], [yesterday, ...today], [sample('10:00', '500')], {
        longestH,
      })[0]?.standing;
    expect([within(24), within(26)]).toEqual(['in-question', 'covered']);
  });
});

describe('a calibration in between', () => {
  it('without a check before it leaves what came earlier in question', () => {
    const checks = [
      setTo('07:30', '1000'),
      sc('07:35', '100', '102'),
      setTo('12:00', '1000'),
      sc('12:10', '5000', '4950'),
    ];
    expect(one(checks, sample('10:00', '900')).reasons[0]).toContain(
      'calibrated again at 2018-09-04 12:00 without a check before',
    );
  });

  it('begins anew: standards of before it do not span what came after', () => {
    const checks = [
      setTo('07:30', '1000'),
      sc('07:35', '100', '102'),
      sc('11:50', '1000', '1005'),
      setTo('12:00', '1000'),
      sc('12:10', '5000', '4950'),
      sc('16:00', '5000', '4950'),
    ];
    expect(one(checks, sample('10:00', '500')).standing).toBe('covered');
    expect(one(checks, sample('14:00', '500'))).toMatchObject({
      standing: 'in-question',
      span: { least: '1000', most: '5000' },
    });
    expect(one(checks, sample('14:00', '2000')).standing).toBe('covered');
  });
});

describe('value', () => {
  it('outside the standards is only worth knowing where the document is not known to ask', () => {
    const result = one(TRAINING, sample('10:00', '6000'), 'usgs-field-manual');
    expect(result.standing).toBe('covered');
    expect(result.reasons[0]).toContain('is not known to ask for it');
  });

  it('does not count for oxygen and ORP, which have no standards on both sides', () => {
    const oxygen = (at: string) => check(at, 'dissolved-oxygen', '9.0', { valueAtTemperature: '9.09' });
    const result = one([oxygen('07:30'), oxygen('16:00')], sample('10:00', '0.4', { parameter: 'dissolved-oxygen' }));
    expect(result).toMatchObject({ standing: 'covered', span: null });
  });

  it('may be missing, and must be a number where it is given', () => {
    expect(one(TRAINING, sample('10:00', null)).standing).toBe('covered');
    expect(one(TRAINING, sample('10:00', 'high')).reasons).toEqual([
      'Specific conductance "high" is no plain decimal.',
    ]);
  });

  it('has no span where nothing that passed has a value', () => {
    const unknown = [
      check('07:30', 'specific-conductance', '1000', {}),
      check('16:00', 'specific-conductance', '1000', {}),
    ];
    expect(one(unknown, sample('10:00', '900'))).toMatchObject({
      standing: 'in-question',
      span: null,
      reasons: [
        'The check before it, at 2018-09-04 07:30, cannot be judged.',
        'The check after it, at 2018-09-04 16:00, cannot be judged.',
      ],
    });
  });

  it('of conductance is that of the label at 25 °C, though the meter showed it raw', () => {
    const raw = (at: string, reading: string) =>
      check(at, 'specific-conductance', reading, {
        conductivityStandard: 'bottled-1413',
        temperatureC: '10',
        conductanceShown: 'raw',
      });
    const result = one([raw('07:30', '1020'), raw('16:00', '1010')], sample('10:00', '1413'));
    expect(result).toMatchObject({ standing: 'covered', span: { least: '1413', most: '1413' } });
  });

  it('of a pH buffer is the one compared: 7.06 at 10 °C, and of a calibration its label', () => {
    const cold = { buffer: 'technical-700', temperatureC: '10' } as const;
    const ph = (at: string, reading: string) => check(at, 'ph', reading, cold);
    const checks = [calibration('07:00', 'ph', { buffer: 'technical-400' }), ph('07:30', '7.05'), ph('16:00', '7.10')];
    const result = one(checks, sample('10:00', '6.40', { parameter: 'ph' }));
    expect(result).toMatchObject({ standing: 'covered', span: { least: '4.00', most: '7.06' } });
    const byValue = calibration('07:00', 'ph', { valueAtTemperature: '4.00' });
    expect(one([byValue, ...checks.slice(1)], sample('10:00', '6.4', { parameter: 'ph' })).span?.least).toBe('4.00');
    const unnamed = calibration('07:00', 'ph', {});
    expect(one([unnamed, ...checks.slice(1)], sample('10:00', '7.06', { parameter: 'ph' })).span?.least).toBe('7.06');
  });
});

describe('turbidity', () => {
  it('in NTU is never vouched for by a standard read in FNU', () => {
    const turbidity = (at: string, nominal: string, turbidityUnit: 'NTU' | 'FNU') =>
      check(at, 'turbidity', nominal, { nominal }, { turbidityUnit });
    const reading = sample('10:00', '12', { parameter: 'turbidity', turbidityUnit: 'NTU' });
    const own = [turbidity('07:30', '1', 'NTU'), turbidity('07:31', '100', 'NTU'), turbidity('16:00', '20', 'NTU')];
    expect(one(own, reading).standing).toBe('covered');
    const mixed = [...own.slice(0, 2), turbidity('16:00', '20', 'FNU')];
    expect(one(mixed, reading).reasons).toEqual([
      'The reading is in NTU and a standard was read in FNU: the two are never compared.',
    ]);
    expect(one(own, { ...reading, value: '140' }).reasons[0]).toBe(
      'Turbidity 140 is outside the standards that passed, 1 to 100.',
    );
  });
});

describe('zero oxygen', () => {
  const full = (at: string) => check(at, 'dissolved-oxygen', '9.0', { valueAtTemperature: '9.09' });
  const zero = (at: string, reading: string) => check(at, 'zero-oxygen', reading, {});
  const reading = sample('10:00', '0.4', { parameter: 'dissolved-oxygen' });

  it('belongs to the oxygen sensor: a bad zero puts its readings in question', () => {
    const day = (last: string) => [full('07:30'), zero('07:40', '0.1'), full('16:00'), zero('16:10', last)];
    expect(one(day('0.1'), reading, 'usgs-field-manual').standing).toBe('covered');
    expect(one(day('0.4'), reading, 'usgs-field-manual').standing).toBe('in-question');
  });

  it('does no harm where the document names no limit for it', () => {
    const day = [full('07:30'), zero('07:40', '0.4'), full('16:00'), zero('16:10', '0.4')];
    expect(one(day, reading, 'florida-field-testing').standing).toBe('covered');
    expect(one([zero('07:40', '0.4'), zero('16:10', '0.4')], reading, 'florida-field-testing').standing).toBe(
      'in-question',
    );
  });
});
