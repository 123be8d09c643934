import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { date, decimal, id, instant, text } from '../../src/protocol/primitives.ts';
import { isUnreadable, readMutation } from '../../src/protocol/read-mutation.ts';

describe('what is said of a value of another type', () => {
  it.each([
    ['decimal', decimal, 7.1, 'a measured value is a decimal string such as "7.10", never a JSON number'],
    ['decimal that may be missing', decimal.nullish(), 7.1, 'a measured value is a decimal string such as "7.10"'],
    ['id', id, 7, 'a UUID in lower-case hexadecimal'],
    ['instant', instant, 1_777_888, 'a date and time with offset'],
    ['date', date, true, 'a date is expected'],
    ['text', text(64), 7, 'a text is expected'],
  ] as const)('%s', (_name, schema, given, says) => {
    const message = schema.safeParse(given).error?.issues[0]?.message;
    expect(message).toContain(says);
    expect(message).not.toMatch(/expected string|Invalid input/);
  });

  it('leaves what is wrong with a string to the rules of strings', () => {
    expect(text(64).safeParse('x'.repeat(65)).error?.issues[0]?.message).toContain('64');
    expect(decimal.safeParse('7,1').error?.issues[0]?.message).toContain('is not a decimal string');
  });

  it('changes nothing of the schema that the doors describe', () => {
    expect(z.toJSONSchema(decimal)).toMatchObject({ type: 'string', examples: ['7.10'] });
  });
});

describe('a line of a push', () => {
  const line = (ph: unknown) =>
    JSON.stringify({
      mutationId: 1,
      verb: 'amend',
      kind: 'reading',
      id: '01890a5d-ac96-774b-bcce-b302099a8057',
      base: { rev: 1 },
      set: { ph },
    });

  it('with a number for a measured value says how it is written', () => {
    const read = readMutation(line(7.1));
    expect(isUnreadable(read) && read.detail).toBe(
      '/set/ph was 7.1: a measured value is a decimal string such as "7.10", never a JSON number',
    );
  });

  it('that is no JSON says what is wrong and where, in our own words', () => {
    const broken = line('7.10').replace('"set":', '"set"');
    const column = broken.indexOf('"set"') + '"set"'.length + 1;
    const read = readMutation(broken);
    expect(isUnreadable(read) && [read.code, read.detail]).toEqual([
      'unreadable_json',
      `not JSON: line 1, column ${column}: { stands where a colon is expected`,
    ]);
  });
});
