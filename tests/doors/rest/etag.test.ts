import { describe, expect, it } from 'vitest';
import { isKnown, revisionOf } from '../../../src/doors/rest/etag.ts';

describe('If-None-Match', () => {
  it('compares weakly, in a list, or with anything', () => {
    expect(isKnown(undefined, '"3"')).toBe(false);
    expect(isKnown('"2", W/"3"', '"3"')).toBe(true);
    expect(isKnown('*', '"3"')).toBe(true);
    expect(isKnown('3', '"3"')).toBe(false);
    expect(isKnown('"33"', '"3"')).toBe(false);
  });
});

describe('If-Match', () => {
  it('names one revision, also by the tag of a derived record', () => {
    expect(revisionOf(' "12" ')).toBe(12);
    expect(revisionOf('"12-0123456789abcdef"')).toBe(12);
  });

  it('asks for nothing when it is missing or means any', () => {
    expect(revisionOf(undefined)).toBeNull();
    expect(revisionOf('*')).toBeNull();
  });

  it('is refused where it is weak, a list or no tag of ours, rather than passed over', () => {
    for (const odd of ['W/"3"', '"3", "4"', '3', '', '"-1"', '"3-12"']) {
      expect(() => revisionOf(odd)).toThrow('send the one ETag that you read');
    }
  });
});
