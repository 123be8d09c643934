import { expect, it } from 'vitest';
import { canonicalEvidence, cutText, fieldEvidence, shownText } from '../../../src/rules/flags/evidence.ts';
import { countText, listText } from '../../../src/rules/flags/list-text.ts';

it('lists are cut after five, and said how many more', () => {
  expect(listText([])).toBe('');
  expect(listText(['A'])).toBe('A');
  expect(listText(['A', 'B'])).toBe('A and B');
  expect(listText(['A', 'B', 'C', 'D', 'E'])).toBe('A, B, C, D and E');
  expect(listText(['A', 'B', 'C', 'D', 'E', 'F', 'G'])).toBe('A, B, C, D, E and 2 more');
  expect([countText(1, 'reading'), countText(40, 'reading')]).toEqual(['1 reading', '40 readings']);
});

it('what is shown keeps the digits as entered and is cut whole', () => {
  expect(shownText('7.10')).toBe('7.10');
  expect(shownText({ b: 1, a: [true] })).toBe('{"a":[true],"b":1}');
  expect(cutText('abcdef', 6)).toBe('abcdef');
  expect(cutText('abcdefg', 6)).toBe('abcde…');
  expect(cutText(`abcd💧fg`, 6)).toBe('abcd\ufffd…');
});

it('evidence of a missing or empty field shows nothing', () => {
  const record = { id: 'r', fields: { ph: '7.10', remark: '', meter: undefined, flows: false } };
  expect(fieldEvidence(record, 'ph')).toEqual({ record: 'r', field: 'ph', shows: '7.10' });
  expect(fieldEvidence(record, 'flows')).toEqual({ record: 'r', field: 'flows', shows: 'false' });
  expect(fieldEvidence(record, 'remark')).toEqual({ record: 'r', field: 'remark' });
  expect(fieldEvidence(record, 'meter')).toEqual({ record: 'r', field: 'meter' });
});

it('evidence has one order: by record, field and what is shown, each piece once', () => {
  const pieces = [
    { record: 'b' },
    { record: 'a', field: 'ph', shows: '16' },
    { record: 'a', field: 'ph', shows: '15' },
    { record: 'a', field: 'ph' },
    { record: 'a' },
    { record: 'b' },
  ];
  expect(canonicalEvidence(pieces)).toEqual([
    { record: 'a' },
    { record: 'a', field: 'ph' },
    { record: 'a', field: 'ph', shows: '15' },
    { record: 'a', field: 'ph', shows: '16' },
    { record: 'b' },
  ]);
});
