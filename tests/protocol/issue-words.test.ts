import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { issueWords } from '../../src/protocol/issue-words.ts';
import { KINDS } from '../../src/protocol/kinds-by-name.ts';
import { text } from '../../src/protocol/primitives.ts';
import { firstFault } from '../../src/protocol/read-mutation.ts';

function said(schema: z.ZodType, given: unknown): string {
  const issue = schema.safeParse(given).error?.issues[0];
  if (!issue) throw new Error('nothing is wrong with it');
  return issueWords(issue);
}

describe('what is said of a value that is missing or of another form', () => {
  it.each<[z.ZodType, unknown, string]>([
    [z.string(), undefined, 'a text is expected'],
    [z.boolean(), 'yes', 'true or false is expected'],
    [z.number(), '7', 'a number is expected'],
    [z.int(), 7.5, 'a whole number is expected'],
    [z.strictObject({}), undefined, 'an object is expected'],
    [z.array(z.string()), undefined, 'a list is expected'],
    [z.enum(['open', 'closed']), undefined, 'one of "open", "closed" is expected'],
    [z.literal('low-flow'), 'fast', '"low-flow" is expected'],
    [z.string().min(1), '', 'it must not be empty'],
    [z.string().max(3), 'four', 'at most 3 characters'],
    [z.array(z.string()).min(2), ['x'], 'at least 2 items'],
    [z.number().gt(0), 0, 'more than 0'],
    [z.number().lt(10), 10, 'less than 10'],
    [z.union([z.string(), z.number()]), true, 'it has none of the forms that it may have'],
    [z.email(), 'nobody', 'it is not of the form that is asked for'],
    // what a schema says by itself stays
    [text(), undefined, 'a text is expected'],
    [z.string().regex(/^a/, { error: 'begins with an a' }), 'b', 'begins with an a'],
  ])('%#', (schema, given, says) => expect(said(schema, given)).toBe(says));

  it('is in our own words for every kind that somebody leaves empty, or gives a number for everything', () => {
    for (const { name, fields } of KINDS) {
      const names = Object.keys(fields.shape);
      for (const given of [{}, Object.fromEntries(names.map((field) => [field, -0.5])), null, []]) {
        const error = fields.safeParse(given).error;
        for (const issue of error?.issues ?? []) {
          const { detail } = firstFault(new z.ZodError([issue]), given, '');
          expect(`${name}: ${detail}`).not.toMatch(/Invalid|Too (?:small|big)|, received|undefined/);
        }
      }
    }
  });
});
