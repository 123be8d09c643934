import type { z } from 'zod';

/** How the library that checks forms begins what it says by itself; our own words stand in the schemas. */
const OF_THE_LIBRARY = /^(?:Invalid|Too small|Too big)\b/;

const TYPES: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  object: 'an object',
  record: 'an object',
  array: 'a list',
  tuple: 'a list',
  null: 'nothing',
};

/** What is counted where a value is too long or too short. */
const COUNTED: Readonly<Record<string, string>> = {
  string: ' characters',
  array: ' items',
  set: ' items',
  object: ' members',
};

function oneOf(values: readonly unknown[]): string {
  const all = values.map((value) => JSON.stringify(value) ?? String(value));
  return all.length === 1 ? `${all[0]} is expected` : `one of ${all.join(', ')} is expected`;
}

function tooSmall({ origin, minimum, inclusive }: z.core.$ZodIssueTooSmall): string {
  if (minimum === 1 && inclusive !== false && origin in COUNTED) return 'it must not be empty';
  return `${inclusive === false ? 'more than' : 'at least'} ${minimum}${COUNTED[origin] ?? ''}`;
}

function tooBig({ origin, maximum, inclusive }: z.core.$ZodIssueTooBig): string {
  return `${inclusive === false ? 'less than' : 'at most'} ${maximum}${COUNTED[origin] ?? ''}`;
}

/** What a field may hold, in our own words; a field that is missing is said to be so beside it. */
export function issueWords(issue: z.core.$ZodIssue): string {
  if (!OF_THE_LIBRARY.test(issue.message)) return issue.message;
  switch (issue.code) {
    case 'invalid_type':
      return `${TYPES[issue.expected] ?? `a value of type ${issue.expected}`} is expected`;
    case 'invalid_value':
      return oneOf(issue.values);
    case 'too_small':
      return tooSmall(issue);
    case 'too_big':
      return tooBig(issue);
    case 'invalid_union':
      return 'it has none of the forms that it may have';
    case 'not_multiple_of':
      return `a multiple of ${issue.divisor} is expected`;
    default:
      return 'it is not of the form that is asked for';
  }
}
