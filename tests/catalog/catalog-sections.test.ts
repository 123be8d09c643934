import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { figuresOfItem, isItemVerified, plainContent } from '../../src/catalog/catalog-figures.ts';
import { catalogItem } from '../../src/catalog/catalog-section.ts';
import { CATALOG_SECTIONS, catalogSection } from '../../src/catalog/catalog-sections.ts';
import { criteriaSets, isVerified } from '../../src/catalog/criteria-sets.ts';
import { ServedData, untoldNumbers } from './served-data.ts';

const CATALOG = path.resolve(import.meta.dirname, '../../src/catalog');
/** Of the showing itself, which holds no data. */
const SHOWING = /^(?:catalog-[a-z]+\.ts|sections\/)/;

const files = readdirSync(CATALOG, { recursive: true, encoding: 'utf8' })
  .map((name) => name.split(path.sep).join('/'))
  .filter((name) => name.endsWith('.ts') && !SHOWING.test(name))
  .toSorted();
const items = CATALOG_SECTIONS.flatMap((section) => section.items.map((item) => ({ section: section.name, item })));
const eachItem = items.map(({ section, item }) => [`${section} ${item.id}`, item] as const);

describe('the whole catalog is shown', () => {
  const served = new ServedData(CATALOG_SECTIONS);

  it.each(files)('src/catalog/%s: what it holds is in a section of src/catalog/sections', async (file) => {
    const exported = (await import(path.join(CATALOG, file))) as Readonly<Record<string, unknown>>;
    expect(Object.entries(exported).flatMap(([name, value]) => served.missing(value, name))).toEqual([]);
  });

  it('and a file that was forgotten would be found', () => {
    const forgotten = { HOLDING: { daysMost: '14', source: 'a document' }, FACTOR: 1.3, CHOICES: ['a-choice'] };
    expect(served.missing(forgotten, 'file')).toEqual([
      'file.HOLDING.daysMost 14',
      'file.HOLDING.source "a document"',
      'file.FACTOR 1.3',
    ]);
  });
});

describe('a section', () => {
  it('has a name of its own that an address can have', () => {
    const names = CATALOG_SECTIONS.map((section) => section.name);
    expect(new Set(names).size).toBe(names.length);
    expect(names.filter((name) => !/^[a-z]+(?:-[a-z]+)*$/.test(name))).toEqual([]);
    for (const section of CATALOG_SECTIONS) expect(catalogSection(section.name)).toBe(section);
    expect(catalogSection('constructor')).toBeUndefined();
  });

  it.each(CATALOG_SECTIONS.map((section) => [section.name, section] as const))('%s has each id once', (_n, section) => {
    const ids = section.items.map(({ id }) => id);
    expect(ids.length).toBeGreaterThan(0);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

describe('every figure has a source and says whether it was read there', () => {
  it.each(eachItem)('%s', (_name, item) => {
    for (const figure of figuresOfItem(item)) {
      expect([figure.at, typeof figure.verified]).toEqual([figure.at, 'boolean']);
      expect([figure.at, figure.source?.trim() || 'no source']).not.toEqual([figure.at, 'no source']);
    }
  });

  it.each(eachItem)('%s: none is left out', (_name, item) => {
    expect(untoldNumbers(item)).toEqual([]);
  });

  it.each(eachItem)('%s can be written as JSON, and says all that it holds', (_name, item) => {
    const plain = plainContent(item.content);
    expect(JSON.parse(JSON.stringify(plain))).toEqual(plain);
  });
});

describe('a figure that says nothing of its source', () => {
  it('has that of the nearest object around it', () => {
    const content = {
      source: 'a manual',
      verified: true,
      note: '12',
      limits: [{ within: { value: '0.1', verified: false, status: 'from memory' } }, { most: '5', source: 'a table' }],
      points: [
        ['10', '7.06'],
        ['15', '7.04'],
      ],
      pair: [1, 2],
      rating: 'poor',
      words: /metals/i,
    };
    const item = catalogItem(content, { id: 'made-up' });
    const rows = figuresOfItem(item).map(({ at, value, source, verified }) =>
      [at, value, source, verified].join(' | '),
    );
    expect(rows).toEqual([
      '/note | 12 | a manual | true',
      '/limits/0/within/value | 0.1 | a manual | false',
      '/limits/1/most | 5 | a table | true',
      '/points/0/1 | 7.06 | a manual | true',
      '/points/1/1 | 7.04 | a manual | true',
      '/pair/0 | 1 | a manual | true',
      '/pair/1 | 2 | a manual | true',
      '/rating | poor | a manual | true',
    ]);
    expect(isItemVerified(item)).toBe(false);
    expect(plainContent(content)).toMatchObject({ words: 'metals' });
  });

  it('is told apart from one that has none', () => {
    const bare = catalogItem({ most: '5' }, { id: 'bare' });
    expect(figuresOfItem(bare)).toEqual([{ at: '/most', value: '5', source: null, verified: null, status: null }]);
    expect(isItemVerified(bare)).toBe(false);
    expect(isItemVerified(catalogItem({ unit: 'pH' }, { id: 'ph' }))).toBeNull();
    expect(isItemVerified(catalogItem({ words: /a/, verified: false }, { id: 'words' }))).toBe(false);
    expect(() => catalogItem({ most: '5' })).toThrow('neither name nor id');
  });
});

describe('a criteria set', () => {
  it('is verified here exactly where the catalog says so by itself', () => {
    const section = catalogSection('criteria-sets');
    expect(section?.items.map((item) => [item.id, isItemVerified(item)])).toEqual(
      criteriaSets.map((set) => [set.id, isVerified(set)]),
    );
  });
});
