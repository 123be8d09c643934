import { describe, expect, it } from 'vitest';
import { type Numbered, SAMPLE_NUMBER_RULE, sampleNumberFlags } from '../../../src/rules/flags/sample-number-twice.ts';

function numbered([number, type]: readonly [string, string?], at: number): Numbered {
  const collected = `2026-05-04T10:${10 + at}:00-05:00`;
  const kind = type === undefined ? 'sample' : 'blank';
  return { id: `id-${at}`, kind, fields: { number, collected, ...(type === undefined ? {} : { type }) } };
}

describe(SAMPLE_NUMBER_RULE.code, () => {
  it.each(SAMPLE_NUMBER_RULE.vectors)('$name', ({ given, expect: says }) => {
    const flags = sampleNumberFlags('event', given.map(numbered));
    if (says === null) expect(flags).toEqual([]);
    else expect(flags.map(({ sentence }) => sentence)).toEqual([expect.stringContaining(says)]);
  });

  it('names all that have the number, the same in any order', () => {
    const all = [['S-7'], ['S-7', 'equipment'], ['S-8']] as const;
    const its = all.map(numbered);
    const [flag] = sampleNumberFlags('event', its);
    expect(flag?.sentence).toContain('a sample of 2026-05-04 10:10 and an equipment blank of 2026-05-04 10:11');
    expect(flag?.evidence.map(({ record }) => record)).toEqual(['id-0', 'id-1']);
    expect(sampleNumberFlags('event', its.toReversed())).toEqual([flag]);
  });
});
