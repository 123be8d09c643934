import { describe, expect, it } from 'vitest';
import { assessment } from '../../../src/protocol/kinds/assessment.ts';
import { assess, at, call, every5Min, idOf, later, REGION_1, reading, STEADY, statusOf } from './purge-fixture.ts';

const three = every5Min([{}, {}, {}]);

describe('an assessment', () => {
  it('[A2] names the criteria, their edition and source, and says that the figures are recalled', () => {
    expect(assess({ readings: three }).criteria).toEqual({
      id: REGION_1,
      document: expect.stringContaining('EQASOP-GW4'),
      edition: 'Revision 4',
      source: 'https://www.epa.gov/sites/default/files/2017-10/documents/eqasop-gw4.pdf',
      verified: false,
    });
    expect(assess({ criteria: 'paul-and-puls-2001', readings: three }).criteria.verified).toBe(true);
  });

  it('[A22] is stable with three steady readings five minutes apart, since the third of them', () => {
    const result = assess({ readings: three });
    expect(result.stable).toBe(true);
    expect(result.missing).toEqual([]);
    expect(result.firstHeldAt).toBe(at('10:10'));
    expect(result.latestReadingAt).toBe(at('10:10'));
    expect(result.firstHeldWindow).toEqual(three.map(({ id }) => id));
    expect(result.window).toEqual(three.map(({ id }) => id));
    expect(result.parameters.map(({ status }) => status)).toEqual([
      'stable',
      'stable',
      'stable',
      'stable',
      'stable',
      'stable',
    ]);
  });

  it('[A23] keeps saying when it first was stable after the water moves again', () => {
    const result = assess({ readings: every5Min([{}, {}, {}, { ph: '7.40' }]) });
    expect(result.stable).toBe(false);
    expect(result.firstHeldAt).toBe(at('10:10'));
    expect(result.missing).toEqual(['pH: Largest minus smallest is 0.30 pH, beyond 0.1 pH.']);
  });

  it('shows for each parameter the readings, the numbers compared and the tolerance with its standing', () => {
    const result = assess({
      readings: every5Min([{ turbidityNtu: '9.1' }, { turbidityNtu: '8.7' }, { turbidityNtu: '8.2' }]),
    });
    expect(result.parameters.at(-1)).toEqual({
      parameter: 'turbidity',
      status: 'not-stable',
      required: true,
      unit: 'NTU',
      readings: three.map(({ id }) => id),
      values: ['9.1', '8.7', '8.2'],
      tolerance: { rule: 'percent', limit: '10', verified: false },
      compared: '10.39',
      spread: '0.9',
      spreadOverSmallest: { percent: '10.98', within: false },
      because: 'Largest minus smallest over the mean is 10.39 %, beyond 10 %.',
    });
  });

  it('says at once what is missing: readings, and parameters that nobody read', () => {
    const none = assess({ readings: [] });
    expect(none.stable).toBe(false);
    expect(none.missing).toEqual(['No reading yet; 3 are needed.']);
    expect(none).not.toHaveProperty('latestReadingAt');
    expect(none).not.toHaveProperty('firstHeldAt');
    const { orpMv: _, ...withoutOrp } = STEADY;
    const two = assess({ readings: [reading({ time: '10:00' }, withoutOrp), reading({ time: '10:05' }, withoutOrp)] });
    expect(two.missing).toEqual(['2 of 3 readings at least 5 min apart.', 'ORP: it was not read yet.']);
    expect(statusOf(two, 'ph')).toBe('missing');
  });

  it('shows what was read and is no criterion, and never judges it', () => {
    const result = assess({
      criteria: 'puls-and-barcelona-1996',
      readings: every5Min([{ temperatureC: '12.0' }, { temperatureC: '15.0' }, { temperatureC: '19.0' }]),
    });
    expect(result.stable).toBe(true);
    expect(result.parameters[0]).toEqual({
      parameter: 'temperature',
      status: 'not-a-criterion',
      required: false,
      unit: '°C',
      readings: three.map(({ id }) => id),
      values: ['12.0', '15.0', '19.0'],
      because: 'These criteria do not ask for it.',
    });
    const fahrenheit = assess({
      criteria: 'puls-and-barcelona-1996',
      readings: three.map(({ fields, ...rest }) => {
        const { temperatureC: _, ...others } = fields;
        return { ...rest, fields: { ...others, temperatureF: '54.3' } };
      }),
    });
    expect(fahrenheit.parameters[0]).toMatchObject({ unit: '°F', values: ['54.3', '54.3', '54.3'] });
    const { temperatureC: _, ...cold } = STEADY;
    const unread = assess({ criteria: 'puls-and-barcelona-1996', readings: [reading({ time: '10:00' }, cold)] });
    expect(statusOf(unread, 'temperature')).toBeUndefined();
  });

  it('[A7] counts a voided reading for nothing, and a corrected one with its current value', () => {
    const spoilt = every5Min([{}, {}, { ph: '9.99' }, {}]);
    expect(assess({ readings: spoilt }).stable).toBe(false);
    const [a, b, c, d] = spoilt as [(typeof spoilt)[0], (typeof spoilt)[0], (typeof spoilt)[0], (typeof spoilt)[0]];
    const voided = { ...c, voided: { reason: 'typed into the wrong well', by: null } };
    const without = assess({ readings: [a, b, voided, d] });
    expect(without.stable).toBe(true);
    expect(without.window).toEqual([a, b, d].map(({ id }) => id));
    const corrected = { ...c, rev: 2, reason: 'digits swapped', fields: { ...c.fields, ph: '7.12' } };
    expect(assess({ readings: [a, b, corrected, d] }).stable).toBe(true);
  });

  it('[A7] leaves out the readings of another purge', () => {
    const stray = reading({ time: '10:12' }, { ...STEADY, ph: '4.00', purge: idOf('another purge') });
    expect(assess({ readings: [...three, stray] })).toEqual(assess({ readings: three }));
  });

  it('takes the five readings of the USGS manual and reports the median of the last five', () => {
    const rows = ['7.02', '7.10', '7.11', '7.14', '7.09', '7.12'].map((ph) => ({ ph }));
    const four = assess({ criteria: 'usgs-field-manual-a4-2006', readings: every5Min(rows.slice(0, 4)) });
    expect(four.missing[0]).toBe('4 of 5 readings at least 3 min apart.');
    const six = assess({ criteria: 'usgs-field-manual-a4-2006', readings: every5Min(rows) });
    expect(six.stable).toBe(true);
    expect(six.readingsNeeded).toBe(5);
    const ph = six.parameters.find(({ parameter }) => parameter === 'ph');
    expect(ph).toMatchObject({ values: ['7.10', '7.11', '7.14', '7.09', '7.12'], median: '7.11', compared: '0.025' });
    const even = assess({
      criteria: 'usgs-field-manual-a4-2006',
      plan: { count: 'comparisons' },
      readings: every5Min(rows),
    });
    expect(even.parameters.find(({ parameter }) => parameter === 'ph')).toMatchObject({ median: '7.105' });
  });

  // USGS NFM A4 v2.0 (2006), from memory: 5 % at or below 100, 3 % above; turbidity has a tolerance only below 100.
  it.each([
    [['100', '96', '95', '99', '98'], 'stable'],
    [['101', '92', '95', '99', '98'], 'not-stable'],
    [['200', '199', '201', '200', '200'], 'stable'],
  ])('judges the conductance %j by the branch of the USGS manual it is in: %s', (values, expected) => {
    const rows = values.map((value) => ({ specificConductanceUsPerCm: value }));
    const result = assess({ criteria: 'usgs-field-manual-a4-2006', readings: every5Min(rows) });
    expect(statusOf(result, 'specific-conductance')).toBe(expected);
  });

  it('decides nothing where the criteria give no tolerance: USGS turbidity at 100 and above', () => {
    const rows = ['120', '120', '121', '120', '100'].map((turbidityNtu) => ({ turbidityNtu }));
    const result = assess({ criteria: 'usgs-field-manual-a4-2006', readings: every5Min(rows) });
    const turbidity = result.parameters.find(({ parameter }) => parameter === 'turbidity');
    expect(turbidity).toMatchObject({ status: 'not-stable', tolerance: { rule: 'none', verified: false } });
    expect(turbidity?.because).toContain('a person decides');
    expect(turbidity).not.toHaveProperty('compared');
  });

  it('[A2] says which sets there are where the plan cites one that the catalog does not have', () => {
    const result = assess({ criteria: 'no-such-set', readings: three });
    expect(result.stable).toBe(false);
    expect(result.criteria).toEqual({ id: 'no-such-set', verified: false });
    expect(result.missing[0]).toContain(REGION_1);
    expect(assessment.fields.parse(result)).toEqual(result);
  });

  it('[A6] is made of plain text and whole numbers, with nothing undefined, and fits its kind', () => {
    const result = assess({
      readings: every5Min([{}, {}, { dissolvedOxygenMgPerL: '1.9' }]),
      calls: [call({ time: '10:11' }, 'stable')],
    });
    expect(JSON.parse(JSON.stringify(result))).toStrictEqual(result);
    expect(assessment.fields.parse(result)).toEqual(result);
    const walk = (value: unknown): void => {
      if (typeof value === 'number') expect(Number.isSafeInteger(value)).toBe(true);
      if (typeof value === 'object' && value !== null) Object.values(value).forEach(walk);
    };
    walk(result);
  });

  it('[A6] depends on nothing but the records: asked again, it is the same to the byte', () => {
    const purge = { readings: every5Min([{}, {}, {}, { ph: '7.3' }]) };
    expect(JSON.stringify(assess(purge))).toBe(JSON.stringify(assess(purge)));
  });

  it('counts a record once that is given twice', () => {
    expect(assess({ readings: [...three, ...three] })).toEqual(assess({ readings: three }));
    expect(assess({ readings: [reading({ time: later(0) }, STEADY), ...three] }).window).toHaveLength(3);
  });
});
