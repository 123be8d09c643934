import { describe, expect, it } from 'vitest';
import { type Dated, lastAssigned } from '../../../src/rules/decide/last-assigned.ts';

const at = (hour: number) => `2026-05-04T${String(hour).padStart(2, '0')}:00:00Z`;

function device(...crews: readonly (readonly [number, string])[]): Dated[] {
  return crews.map(([hour, crew]) => ({ state: { id: 'd', voided: null, fields: { crew } }, at: at(hour) }));
}

function assignment(id: string, ...states: readonly (readonly [number, string | null])[]): Dated[] {
  let last = '';
  return states.map(([hour, crew]) => {
    last = crew ?? last;
    const voided = crew === null ? { reason: 'elsewhere', by: null } : null;
    return { state: { id, voided, fields: { crew: last, event: 'e' } }, at: at(hour) };
  });
}

describe('when a device was last of a crew that was assigned', () => {
  it.each([
    ['never assigned', device([1, 'north']), [assignment('a', [2, 'south'])], null],
    ['still assigned', device([1, 'north']), [assignment('a', [2, 'north'])], null],
    ['the assignment was voided', device([1, 'north']), [assignment('a', [2, 'north'], [5, null])], ['a', 5]],
    ['it was given to another crew', device([1, 'north']), [assignment('a', [2, 'north'], [6, 'south'])], ['a', 6]],
    ['the device went to another crew', device([1, 'north'], [4, 'south']), [assignment('a', [2, 'north'])], ['a', 4]],
    [
      'the device had gone before the assignment',
      device([1, 'north'], [2, 'south']),
      [assignment('a', [3, 'north'])],
      null,
    ],
    [
      'the latest of several counts',
      device([1, 'north'], [7, 'south']),
      [assignment('a', [2, 'north'], [3, null]), assignment('b', [4, 'north'])],
      ['b', 7],
    ],
    [
      'assigned anew and ended again',
      device([1, 'north']),
      [assignment('a', [2, 'north'], [3, null], [5, 'north'], [8, null])],
      ['a', 8],
    ],
  ] as const)('%s', (_what, phone, assignments, expected) => {
    const ended = lastAssigned(phone, assignments, 'e');
    expect(ended && [ended.assignment, ended.ended]).toEqual(expected && [expected[0], at(expected[1])]);
    expect(lastAssigned(phone, assignments, 'another event')).toBeNull();
  });
});
