import { describe, expect, it } from 'vitest';
import type { KindDefinition } from '../../../src/protocol/kind.ts';
import { kindNamed } from '../../../src/protocol/kinds-by-name.ts';
import { placeOf } from '../../../src/rules/decide/home.ts';
import { EVENT, emptyWorld, idOf, VISIT, WELL } from '../merge/merge-world.ts';

function kind(name: string): KindDefinition {
  const found = kindNamed(name);
  if (!found) throw new Error(`there is no kind ${name}`);
  return found;
}

const ID = idOf(0xa1, 1);
const site = emptyWorld().get(WELL)?.feed;

describe('where a record lives', () => {
  it.each([
    ['crew', {}, { feed: 'firm', parent: null, visit: null }],
    ['site', {}, { feed: `site:${ID}`, parent: null, visit: null }],
    ['visit', { event: EVENT }, { feed: `event:${EVENT}`, parent: EVENT, visit: ID }],
    ['measuring-point', { well: WELL }, { feed: site, parent: WELL, visit: null }],
    ['visit-summary', { well: WELL, visit: VISIT }, { feed: site, parent: WELL, visit: VISIT }],
  ])('a %s', (name, fields, place) => {
    expect(placeOf(kind(name), ID, fields, emptyWorld())).toEqual(place);
  });

  it('is a fault of ours to ask before its parent is loaded', () => {
    expect(() => placeOf(kind('purge'), ID, { visit: VISIT }, emptyWorld())).toThrow('was not loaded');
  });
});
