import { describe, expect, it } from 'vitest';
import { doorbellTexts, readDoorbell, type Tails } from '../../../src/store/live/doorbell-text.ts';

const FIRM = '018f0000-0000-7000-8000-000000000001';
const OTHER = '018f0000-0000-7000-8000-000000000002';

function feeds(count: number): Map<string, number> {
  const name = (at: number) => `event:018f0000-0000-7000-8000-${String(at).padStart(12, '0')}`;
  return new Map(Array.from({ length: count }, (_, at) => [name(at), at + 9_000_000]));
}

/** What all of these notifications say together. */
function heard(texts: readonly string[]): Map<string, Tails> {
  const all = new Map<string, Tails>();
  for (const { firm, tails } of texts.map((text) => readDoorbell(text)).filter((sound) => sound !== null)) {
    const before = all.get(firm);
    all.set(firm, tails === null ? null : new Map([...(before ?? []), ...tails]));
  }
  return all;
}

describe('what a doorbell says', () => {
  it.each([1, 2, 130, 131, 132, 1_999, 2_000])(
    'of %i feeds is heard whole, in parts that a notification holds',
    (count) => {
      const dirty = new Map<string, Tails>([
        [FIRM, feeds(count)],
        [OTHER, new Map([['firm', 7]])],
      ]);
      const texts = doorbellTexts(dirty);
      expect(Math.max(...texts.map((text) => Buffer.byteLength(text)))).toBeLessThan(7_600);
      expect(texts.length).toBeLessThanOrEqual(Math.ceil(count / 120) + 1);
      expect(heard(texts)).toEqual(dirty);
    },
  );

  it('is to look oneself where there are too many feeds to name, or none is known', () => {
    const texts = doorbellTexts(
      new Map<string, Tails>([
        [FIRM, feeds(2_001)],
        [OTHER, null],
      ]),
    );
    expect(texts.map((text) => readDoorbell(text))).toEqual([
      { firm: FIRM, tails: null },
      { firm: OTHER, tails: null },
    ]);
  });

  it('is nothing where nothing has gone on', () => {
    expect(doorbellTexts(new Map([[FIRM, new Map()]]))).toEqual([]);
  });

  it.each([
    '',
    '*',
    '{',
    '[]',
    '{"firm":"x"}',
    `{"firm":"${FIRM}","tails":{"firm":"1"}}`,
    `{"firm":"${FIRM}","tails":{"firm":-1}}`,
  ])('is not understood of %j, which is not ours', (text) => {
    expect(readDoorbell(text)).toBeNull();
  });
});
