import { describe, expect, it } from 'vitest';
import { Chance } from './chance.ts';
import { drawFeatures } from './features.ts';
import { range } from './seed-report.ts';

/** How many phones each of so many worlds has, as `World.open` draws it. */
function phonesOf(from: number, count: number): number[] {
  return [...range(from, count)].map((seed) => drawFeatures(new Chance(seed).fork()).phones);
}

function share(phones: readonly number[], least: number, most: number): number {
  return phones.filter((count) => count >= least && count <= most).length / phones.length;
}

describe('how many phones there are', () => {
  const many = phonesOf(1_000_000, 100_000);

  it('is every number from 3 to 50', () => {
    expect([...new Set(many)].sort((one, other) => one - other)).toEqual([...range(3, 48)]);
  });

  it('is mostly small, so that many worlds can be played, but often enough that of a crowd and of a firm', () => {
    expect(share(many, 3, 4)).toBeGreaterThan(0.94);
    expect(share(many, 5, 12)).toBeGreaterThan(0.03);
    expect(share(many, 13, 50)).toBeGreaterThan(0.005);
    // none is rare among its like
    for (const phones of range(5, 8)) expect(share(many, phones, phones)).toBeGreaterThan(0.003);
    for (const phones of range(13, 38)) expect(share(many, phones, phones)).toBeGreaterThan(0.000_08);
  });

  it('is large in some of the worlds of every run', () => {
    const short = phonesOf(1, 1_500);
    expect(share(short, 5, 12)).toBeGreaterThan(0.03);
    expect(share(short, 13, 50)).toBeGreaterThan(0.002);
  });
});
