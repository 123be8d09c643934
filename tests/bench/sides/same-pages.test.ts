import { describe, expect, it } from 'vitest';
import type { Bootstrapped } from './bootstrap.ts';
import { checkSamePages } from './same-pages.ts';

function pagesOf(...sizes: number[]): Bootstrapped {
  return { sizes, pages: sizes.length, bytes: sizes.reduce((sum, size) => sum + size, 0), firstPage: '', tail: 0 };
}

describe('what two servers sent of a feed', () => {
  it('is the same where no page differs by more than the digits of its cursor', () => {
    expect(() => checkSamePages(pagesOf(9_000, 9_100, 40), pagesOf(9_004, 9_098, 60))).not.toThrow();
  });

  it('is not the same where pages differ and the sums agree: the first is named', () => {
    expect(() => checkSamePages(pagesOf(9_000, 9_100, 40), pagesOf(9_000, 9_040, 100))).toThrow(
      'the first that differs is page 2: 9040 bytes by the bare server, 9100 by ours',
    );
  });

  it('is not the same where one sent more pages', () => {
    expect(() => checkSamePages(pagesOf(9_000), pagesOf(9_000, 40))).toThrow('the bare server sent 2 pages');
    expect(() => checkSamePages(pagesOf(9_000, 400), pagesOf(9_000))).toThrow('page 2: no bytes by the bare server');
  });
});
