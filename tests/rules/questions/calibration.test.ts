import { describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { calibrationBracket } from '../../../src/rules/questions/calibration-bracket.ts';
import { meterCheck } from '../../../src/rules/questions/meter-check.ts';
import { meterUsableNow } from '../../../src/rules/questions/meter-usable-now.ts';
import type { Question } from '../../../src/rules/questions/question.ts';

function ask<Input extends z.ZodObject, Output extends z.ZodObject>(question: Question<Input, Output>, given: unknown) {
  const answer = question.answer(question.input.parse(given));
  expect(question.output.parse(answer)).toEqual(answer);
  return answer;
}

function firstExample(question: { readonly input: z.ZodObject }): unknown {
  const examples: unknown = question.input.meta()?.examples;
  return Array.isArray(examples) ? examples[0] : undefined;
}

/** pH 7.25 in technical buffer 7.00 at 10 °C, at the end of a day, as the question itself shows it. */
const { check } = firstExample(meterCheck) as { readonly check: Readonly<Record<string, unknown>> };

describe('does this check pass', () => {
  it('against the value at the temperature, with what the label would have said', () => {
    expect(ask(meterCheck, { set: 'florida-field-testing', check })).toMatchObject({
      outcome: 'pass',
      standardValue: '7.06',
      basis: 'at-temperature',
      deviation: '0.19',
      refused: null,
      verified: false,
      cautions: [expect.stringContaining('would have failed')],
    });
  });

  it('by another document, or by the label, it fails', () => {
    expect(ask(meterCheck, { set: 'usgs-field-manual', check }).outcome).toBe('fail');
    expect(ask(meterCheck, { set: 'florida-field-testing', basis: 'nominal', check }).outcome).toBe('fail');
  });

  it('is refused where something is missing, with what is needed', () => {
    const { temperatureC: _, ...without } = check;
    const answer = ask(meterCheck, { set: 'florida-field-testing', check: without });
    expect(answer).toMatchObject({ outcome: 'cannot-tell', standardValue: null });
    expect(answer.refused).toContain('its temperature');
  });

  it('is refused where the document says nothing', () => {
    const zero = { ...check, parameter: 'zero-oxygen', reading: '0.1' };
    expect(ask(meterCheck, { set: 'florida-field-testing', check: zero })).toMatchObject({ outcome: 'no-limit' });
  });

  it('questions an ORP solution that is far from the groundwater', () => {
    const orp = { ...check, parameter: 'orp', reading: '230', temperatureC: '28', valueAtTemperature: '228' };
    const answer = ask(meterCheck, { set: 'usgs-field-manual', groundwaterTemperatureC: '11', check: orp });
    expect(answer.cautions[0]).toContain('17 °C from the groundwater');
  });
});

describe('do the checks vouch for these readings', () => {
  const example = firstExample(calibrationBracket) as { checks: object[]; readings: object[] };

  it('the printed example of the training is covered', () => {
    const answer = ask(calibrationBracket, example);
    expect(answer.results).toMatchObject([
      { standing: 'covered', leastStandard: '100', mostStandard: '5000', reasons: [] },
    ]);
    expect(answer.reasons).toEqual(['1 covered, 0 waiting for a check after them, 0 in question.']);
  });

  it('without the check of the evening it waits, and without a value only time counts', () => {
    const reading = { ...example.readings[0], value: undefined, parameter: 'orp' };
    const answer = ask(calibrationBracket, {
      ...example,
      checks: example.checks.slice(0, 2),
      readings: [...example.readings, reading],
    });
    expect(answer.results).toMatchObject([{ standing: 'pending' }, { standing: 'in-question', leastStandard: null }]);
  });
});

describe('may this meter be used now', () => {
  it('is answered sensor by sensor', () => {
    const example = firstExample(meterUsableNow);
    const answer = ask(meterUsableNow, example);
    expect(answer.usable).toBe(false);
    expect(answer.sensors).toMatchObject([
      { parameter: 'ph', usable: true, until: '2026-05-05T12:30:00.000Z' },
      { parameter: 'turbidity', usable: false, until: null },
    ]);
  });

  it('takes how long a pass vouches from the plan', () => {
    const given = {
      set: 'usgs-field-manual',
      meter: 'meter 2',
      parameters: ['ph'],
      now: '2026-05-05T09:00:00-05:00',
      checks: [{ ...check, reading: '7.06' }],
    };
    expect(ask(meterUsableNow, given).usable).toBe(true);
    expect(ask(meterUsableNow, { ...given, longestH: 12 }).usable).toBe(false);
  });
});
