import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brokenJson } from '../../src/protocol/broken-json.ts';

describe('a text that is no JSON', () => {
  it.each([
    ['', 'line 1, column 1: it ends where a value is expected'],
    [
      '{"ph": "7.10",}',
      'line 1, column 15: } stands where the name of a field in quotation marks is expected; the last field has no comma after it',
    ],
    ['[1, 2,]', 'line 1, column 7: ] stands where a value is expected; the last item has no comma after it'],
    ['{"a": 1\n "b": 2}', 'line 2, column 2: " stands where a comma or } is expected'],
    ['[1 2]', 'line 1, column 4: 2 stands where a comma or ] is expected'],
    [
      "{'ph': 1}",
      'line 1, column 2: \' stands where the name of a field in quotation marks, or } is expected; texts stand in "quotation marks"',
    ],
    ['{ph: 1}', 'line 1, column 2: ph stands where the name of a field in quotation marks, or } is expected'],
    ['{"ph": NaN}', 'line 1, column 8: NaN stands where a value is expected; what is not known is left out'],
    ['{"ph" 1}', 'line 1, column 7: 1 stands where a colon is expected'],
    ['{"ph": 7.}', 'line 1, column 9: . stands where a comma or } is expected'],
    ['{"remark": "no end', 'line 1, column 12: the text that begins here has no closing quotation mark'],
    ['"a\\xb"', 'line 1, column 3: \\x is no escape; a backslash is written \\\\'],
    ['"a\tb"', 'line 1, column 3: a line end or control character stands within a text: write it as an escape'],
    ['{"a": 1', 'line 1, column 8: it ends where a comma or } is expected'],
    ['{"a": 1} x', 'line 1, column 10: x stands where the end is expected'],
    ['[', 'line 1, column 2: it ends where a value or ] is expected'],
    ['// note\n1', 'line 1, column 1: / stands where a value is expected; JSON has no comments'],
    ['\n\n  -', 'line 3, column 3: - stands where a value is expected'],
  ])('%j: %s', (text, why) => expect(brokenJson(text)).toBe(why));

  it('may be nested deeper than a stack is', () => {
    expect(brokenJson('['.repeat(200_000))).toBe('line 1, column 200001: it ends where a value or ] is expected');
    expect(brokenJson('['.repeat(200_000) + ']'.repeat(200_000))).toBeNull();
  });
});

describe('what is JSON and what is not', () => {
  function parses(text: string): boolean {
    try {
      JSON.parse(text);
      return true;
    } catch {
      return false;
    }
  }

  it('is told as JSON.parse tells it: every JSON text, and every such text after a change', () => {
    const spoilt = fc
      .record({
        value: fc.jsonValue(),
        at: fc.nat(),
        cut: fc.nat({ max: 3 }),
        put: fc.constantFrom('', ...'{}[]",:\\.-0e+ \n\'tn/'),
        indent: fc.constantFrom(0, 2),
      })
      .map(({ value, at, cut, put, indent }) => {
        const text = JSON.stringify(value, null, indent);
        const place = at % (text.length + 1);
        return text.slice(0, place) + put + text.slice(place + cut);
      });
    fc.assert(
      fc.property(spoilt, (text) => (brokenJson(text) === null) === parses(text)),
      { numRuns: 3_000 },
    );
  });
});
