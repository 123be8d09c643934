import type { Bootstrapped } from './bootstrap.ts';

/** Less than any row: cursors grow by a digit now and then, and the last does not say where the feed was begun. */
const NEAR_BYTES = 40;

/** What both servers sent of a feed from nothing has to be the same rows: says which page is not. */
export function checkSamePages(own: Bootstrapped, bare: Bootstrapped): void {
  const other = own.sizes.findIndex((size, page) => Math.abs(size - (bare.sizes[page] ?? 0)) > NEAR_BYTES);
  const sides = `the bare server sent ${bare.pages} pages, ${bare.bytes} bytes; ours ${own.pages}, ${own.bytes}`;
  if (other >= 0) {
    const sizes = `${bare.sizes[other] ?? 'no'} bytes by the bare server, ${own.sizes[other]} by ours`;
    throw new Error(`${sides}; the first that differs is page ${other + 1}: ${sizes}`);
  }
  if (own.pages !== bare.pages) throw new Error(sides);
}
