import { describe, expect, it } from 'vitest';
import { estimateNote } from '../../../src/rules/laboratory/results/estimate-note.ts';
import { readHeading } from '../../../src/rules/laboratory/results/result-columns.ts';
import { figureFault } from '../../../src/rules/laboratory/results/result-figure.ts';
import { readResultLine } from '../../../src/rules/laboratory/results/result-line.ts';
import { qualifiersIn, unknownQualifier } from '../../../src/rules/laboratory/results/result-qualifiers.ts';
import { timeFaults } from '../../../src/rules/laboratory/results/result-times.ts';
import { judgeUnit } from '../../../src/rules/laboratory/results/result-units.ts';

describe('a heading', () => {
  it('is read whatever its case and signs, and names what it lacks or has twice', () => {
    const { places, problems } = readHeading(['Sample_Number', 'CAS number', 'VALUE', 'unit']);
    expect([[...places.keys()], problems]).toEqual([['sampleNumber', 'casNumber', 'value', 'unit'], []]);
    const bad = readHeading(['value', 'Value', 'result']);
    expect(bad.problems.map(({ problem }) => problem)).toEqual([
      'the column value is there twice',
      'this column is not known',
      'the heading lacks sampleNumber, unit, analyte or casNumber',
    ]);
  });
});

describe('a figure', () => {
  it.each(['7.10', '0', '-0.5', '123456789.123456'])('%s is one', (cell) => expect(figureFault(cell)).toBe(null));
  it.each([
    ['<0.5', 'U and the reporting limit'],
    ['ND', 'qualifier U'],
    ['1,5', '1.5'],
    ['1,234.5', 'without commas'],
    ['1.2E-3', 'exponent'],
    ["'-0.5", 'apostrophe'],
    ['=1+1', 'formula'],
    ['1e309', 'exponent'],
    ['NaN', 'a figure such as'],
    ['٣', 'a figure such as'],
  ])('%s is none, and what to write is said', (cell, toDo) => expect(figureFault(cell)?.toDo).toContain(toDo));
});

describe('a qualifier', () => {
  it('is one of the list, several with any separator', () => {
    expect(unknownQualifier(qualifiersIn('J, B;H2  J+'))).toBe(null);
    expect(unknownQualifier(['UJ'])?.toDo).toBe('write U J, as two codes');
    expect(unknownQualifier(['u'])?.toDo).toBe('write U');
  });
});

describe('a unit', () => {
  it('fits, differs by a thousand, or is wrong', () => {
    expect(judgeUnit('µg/L', 'ug/L').as).toBe('fits');
    expect(judgeUnit('mg/L', 'ug/L').as).toBe('differs');
    expect(judgeUnit('pCi/L', 'ug/L')).toMatchObject({ as: 'wrong', toDo: 'report it in ug/L' });
    expect(judgeUnit('UG/L', undefined)).toMatchObject({ as: 'wrong', toDo: 'write ug/L' });
    expect(judgeUnit('fibers/L', 'fibers/L').as).toBe('fits');
  });
});

describe('the times of a line', () => {
  const known = { collected: '2026-05-04T15:00:00Z', received: '2026-05-05T15:00:00Z', now: '2026-05-20T00:00:00Z' };
  const said = (cells: object, more: object = {}) =>
    timeFaults(cells, { ...known, ...more }).map(({ column, isNote, problem }) => [column, isNote, problem]);

  it('are refused before the sample was collected, or to come, and asked about before it was received', () => {
    expect(said({ analyzed: '2026-05-03T14:00:00Z' })).toEqual([
      ['analyzed', false, 'it was analysed before it was collected (2026-05-04T15:00:00Z)'],
    ]);
    expect(said({ extracted: '2026-05-22T14:00:00Z' })).toEqual([
      ['extracted', false, 'it has not come yet (here it is 2026-05-20T00:00:00Z)'],
    ]);
    expect(said({ analyzed: '2026-05-04T18:00:00Z' })).toEqual([
      ['analyzed', true, 'it was analysed before it was received (2026-05-05T15:00:00Z)'],
    ]);
    expect(said({ extracted: '2026-05-08T10:00:00Z', analyzed: '2026-05-06T10:00:00Z' })).toEqual([
      ['analyzed', false, 'it was analysed before it was extracted (2026-05-08T10:00:00Z)'],
    ]);
  });

  it('are no more than asked about where the clock of the phone may have lied, or nothing bears out when it was taken', () => {
    const before = 'it was analysed before it was collected (2026-05-08T15:00:00Z)';
    const fast = { collected: '2026-05-08T15:00:00Z', received: '2026-05-05T15:00:00Z' };
    expect(said({ analyzed: '2026-05-06T15:00:00Z' }, fast)).toEqual([['analyzed', true, before]]);
    expect(said({ analyzed: '2026-05-06T15:00:00Z' }, { ...fast, received: null })).toEqual([
      ['analyzed', true, before],
    ]);
    const [asked] = timeFaults({ analyzed: '2026-05-06T15:00:00Z' }, { ...known, ...fast });
    expect(asked?.toDo).toContain('tell the office');
    expect(said({ analyzed: '2026-05-06T15:00:00Z' }, { ...fast, received: '2026-05-09T15:00:00Z' })).toEqual([
      ['analyzed', false, before],
    ]);
  });

  it('are no more than asked about days before it was received, and refused where it came as it was collected', () => {
    const late = { received: '2026-05-08T15:00:00Z' };
    expect(said({ analyzed: '2026-05-05T16:00:00Z' }, late)).toEqual([
      ['analyzed', true, 'it was analysed before it was received (2026-05-08T15:00:00Z)'],
    ]);
    expect(said({ analyzed: '2026-05-02T14:00:00Z' }, { received: known.collected })).toEqual([
      ['analyzed', false, 'it was analysed before it was collected (2026-05-04T15:00:00Z)'],
    ]);
  });

  it('may be those of a report that knows only the day, and of a sample of which nothing is known', () => {
    expect(said({ analyzed: '2026-05-04T00:00:00Z' })).toEqual([['analyzed', true, expect.any(String)]]);
    expect(said({ analyzed: '2026-05-01T00:00:00Z' }, { collected: null, received: null })).toEqual([]);
    expect(said({ extracted: '2026-05-06T10:00:00Z', analyzed: '2026-05-08T10:00:00Z' })).toEqual([]);
  });
});

describe('a value below its reporting limit', () => {
  const note = (more: object) => {
    const line = readResultLine(
      { sampleNumber: '1', analyte: 'Benzene', unit: 'ug/L', reportingLimit: '0.5', ...more },
      2,
    );
    return 'cells' in line ? estimateNote(line) : line;
  };

  it('is asked about where no J says that it is an estimate, or where it is said to be detected', () => {
    expect(note({ value: '0.3' })).toBe('it is below its reporting limit 0.5, and no J says that it is an estimate');
    expect(note({ value: '0.3', qualifiers: 'J', condition: 'detected' })).toContain('said to be detected');
    expect(note({ value: '0.7', condition: 'below-reporting-limit' })).toBe('it is not below its reporting limit 0.5');
    for (const fine of [{ value: '0.3', qualifiers: 'J-' }, { value: '0.5' }, { qualifiers: 'U' }])
      expect(note(fine)).toBe(null);
  });
});

describe('a line', () => {
  const cells = { sampleNumber: '1', analyte: 'Benzene', unit: 'ug/L' };
  const read = (more: object) => readResultLine({ ...cells, ...more }, 2);

  it.each([
    [{ value: '7', reportingLimit: '0.5' }, 'detected'],
    [{ value: '0.3', reportingLimit: '0.5' }, 'below-reporting-limit'],
    [{ value: '0.5', reportingLimit: '0.50' }, 'detected'],
    [{ value: '0.3', qualifiers: 'J' }, 'below-reporting-limit'],
    [{ qualifiers: 'U', reportingLimit: '0.5' }, 'not-detected'],
    [{ value: '0.50', qualifiers: 'U', reportingLimit: '0.5' }, 'not-detected'],
    [{ qualifiers: 'NSQ' }, 'not-reported'],
    [{ condition: 'not-reported' }, 'not-reported'],
  ])('with %o is %s', (more, condition) => expect(read(more)).toMatchObject({ condition }));

  it('of what was not detected keeps no limit as a value, and loses none that is another', () => {
    expect(read({ value: '0.50', qualifiers: 'U', reportingLimit: '0.5' })).toMatchObject({ value: undefined });
    expect(read({ value: '0.40', qualifiers: 'U', reportingLimit: '0.5' })).toMatchObject([{ column: 'value' }]);
  });

  it('that says nothing is no result', () => {
    expect(read({})).toMatchObject([{ column: 'value', problem: 'it is empty, and nothing says why' }]);
    expect(read({ condition: 'detected' })).toMatchObject([{ column: 'value' }]);
  });
});
