import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvCell, csvLine } from '../../src/documents/csv/csv-cell.ts';
import { flatChanges } from '../../src/documents/history/flat-changes.ts';
import { readCsv } from './read-csv.ts';

describe('[H4] a line of CSV', () => {
  it('gives back every text, figures as they are, and is no formula in a spreadsheet', () => {
    const text = fc.oneof(fc.string({ unit: 'binary' }), fc.constantFrom('a,b', '"', '\r\n', '=1+1', '-7.10', '@x'));
    fc.assert(
      fc.property(fc.array(text, { minLength: 2 }), (cells) => {
        const [line] = readCsv(csvLine(cells));
        expect(line?.map((cell, at) => (cell === cells[at] ? cell : cell.slice(1)))).toEqual(cells);
        for (const cell of line ?? []) expect(cell).toMatch(/^(?!\s*[=+\-@])|^[-+]?\d+(\.\d+)?$/);
      }),
    );
  });

  it.each([
    ['=HYPERLINK("x")', `"'=HYPERLINK(""x"")"`],
    ['+1 555', "'+1 555"],
    ['@sum', "'@sum"],
    ['-cmd', "'-cmd"],
    ['\t=1', "'\t=1"],
    ['-7.10', '-7.10'],
    ['+0.5', '+0.5'],
    ['-', "'-"],
    ['-1-1', "'-1-1"],
    ['7.10', '7.10'],
    ['a "b"', '"a ""b"""'],
    ['', ''],
  ])('writes %s as %s', (given, written) => {
    expect(csvCell(given)).toBe(written);
  });

  it('writes numbers and nothing', () => {
    expect(csvLine([1, -2, null, undefined])).toBe('1,-2,,\r\n');
  });
});

describe('changes down to plain values', () => {
  it('goes into what has members, and leaves lists whole', () => {
    const was = { at: 'a', captured: 'at-the-well' };
    const changes = [
      { field: 'observed', was, is: { ...was, at: 'b' } },
      { field: 'suites', is: ['pfas'] },
      { field: 'ph', was: '7.1' },
      { field: 'voided', is: { reason: 'twice', by: null } },
    ];
    expect(flatChanges(changes)).toEqual([
      { field: 'observed.at', was: 'a', is: 'b' },
      { field: 'suites', was: null, is: '["pfas"]' },
      { field: 'ph', was: '7.1', is: null },
      { field: 'voided.reason', was: null, is: 'twice' },
    ]);
  });
});
