import { expect, it } from 'vitest';
import { checkAll, checkChanged, writableKind } from '../../src/client/check-fields.ts';
import { LocalError } from '../../src/client/local-error.ts';

function faultOf(check: () => unknown): LocalError {
  try {
    check();
  } catch (error) {
    if (error instanceof LocalError) return error;
    throw error;
  }
  throw new Error('nothing was wrong');
}

const VISIT = {
  event: '01a216f5-ca04-71e0-8011-0069c5069029',
  well: '01a216f5-ca04-71e0-8011-0069c5069029',
  crew: '01a216f5-ca04-71e0-8011-0069c5069029',
  method: 'low-flow',
  arrived: '2026-05-04T08:00:00-05:00',
};

it('says what is wrong with a field in the words of the server, and not in those of the library that found it', () => {
  const { method: _, ...without } = VISIT;
  const given = { ...without, outcome: 'wet', left: 7, weather: 'fair' };
  const { message, pointers } = faultOf(() => checkAll(writableKind('visit'), given));
  expect(message).toMatch(/visit\.method is missing: one of "low-flow", .* is expected; /);
  expect(message).toMatch(/visit\.outcome cannot be read: one of "sampled", .* is expected \(given: "wet"\)/);
  expect(message).toContain('visit.left cannot be read: a date and time with offset is expected, such as ');
  expect(message).toContain('visit.weather is not a known field (given: "fair")');
  expect(message).not.toMatch(/Invalid|Unrecognized|expected one of|received/);
  expect(pointers?.toSorted()).toEqual(['/left', '/method', '/outcome', '/weather']);
});

it('says of a change what it may not clear', () => {
  const { message } = faultOf(() => checkChanged(writableKind('visit'), { arrived: null }));
  expect(message).toMatch(
    /^visit\.arrived cannot be read: a date and time .* \(given: null\)\. Correct it and try again\.$/,
  );
});
