import type { StampedClock } from '../../../src/protocol/record.ts';
import type { Held } from '../../../src/rules/held.ts';
import { Overlay } from '../../../src/rules/overlay.ts';

/** A readable UUID: family tells what it is of, number which. */
export function idOf(family: number, number: number): string {
  const [f, n] = [family.toString(16).padStart(8, '0'), number.toString(16).padStart(12, '0')];
  return `${f}-0000-7000-8000-${n}`;
}

export const FIRM = idOf(0xf1, 0);
export const WELL = idOf(0xe1, 1);
export const DEEP = idOf(0xe1, 2);
export const EVENT = idOf(0xee, 1);
export const LATER = idOf(0xee, 2);
export const MEMBER = idOf(0xaa, 1);
export const VISIT = idOf(0xb1, 1);
export const PURGE = idOf(0xb2, 1);
export const READINGS = [idOf(0xb3, 1), idOf(0xb3, 2), idOf(0xb3, 3)] as const;
const SITE = idOf(0xe5, 1);
const NEST = idOf(0xe6, 1);
const CREW = idOf(0xc1, 1);

export const OBSERVED = {
  at: '2026-05-04T10:05:00-05:00',
  entered: '2026-05-04T10:05:00-05:00',
  captured: 'at-the-well',
  readBy: MEMBER,
  writtenBy: MEMBER,
};

export function observedAt(minute: number) {
  const time = `2026-05-04T10:${String(minute).padStart(2, '0')}:00-05:00`;
  return { ...OBSERVED, at: time, entered: time };
}

const clock: StampedClock | null = null;

type Place = Pick<Held, 'feed' | 'parent' | 'visit'>;

function held(kind: string, id: string, place: Place, fields: Held['state']['fields']): Held {
  const author = { by: MEMBER, client: null, mutation: null };
  return { state: { kind, id, rev: 1, voided: null, ...author, reason: null, clock, fields }, ...place, memory: null };
}

const inFirm: Place = { feed: 'firm', parent: null, visit: null };
const inSite: Place = { feed: `site:${SITE}`, parent: SITE, visit: null };

function well(id: string, name: string, depth: string): Held {
  const depths = { totalDepthFt: depth, depthsFrom: 'measuring-point', casingInsideDiameterIn: '2.067' };
  return held('well', id, inSite, { site: SITE, name, standing: 'in-service', nest: NEST, ...depths });
}

function event(id: string): Held {
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const dates = { starts: '2026-05-04', ends: '2026-05-05', standing: 'open' };
  return held(
    'event',
    id,
    { feed: `event:${id}`, parent: null, visit: null },
    { site: SITE, name: id, ...dates, plan },
  );
}

export const POINTS = { shallow: idOf(0xe7, 1), old: idOf(0xe7, 2), raised: idOf(0xe7, 3) };

function point(id: string, of: string, validFrom: string, change: string): Held {
  const place = { feed: `site:${SITE}`, parent: of, visit: null };
  return held('measuring-point', id, place, { well: of, description: 'notch on the rim', validFrom, change });
}

/** What the edits of a test are about, as the office set it up: wells of a nest, their points, and two events. */
export function emptyWorld(): Overlay {
  const world = new Overlay();
  world.put(held('member', MEMBER, inFirm, { name: 'Ann Reader', initials: 'AR', standing: 'active' }));
  world.put(held('crew', CREW, inFirm, { name: 'North crew' }));
  world.put(well(WELL, 'W-4S', '25.3'));
  world.put(well(DEEP, 'W-4D', '61.8'));
  world.put(point(POINTS.shallow, WELL, '2020-01-01T00:00:00Z', 'first'));
  world.put(point(POINTS.old, DEEP, '2020-01-01T00:00:00Z', 'first'));
  world.put(point(POINTS.raised, DEEP, '2026-05-04T12:00:00-05:00', 'casing-changed'));
  world.put(event(EVENT));
  world.put(event(LATER));
  return world;
}

/** The fields of a new record of the visit, of which a test changes some. */
export const FIRST_FIELDS: Readonly<Record<string, Readonly<Record<string, unknown>>>> = {
  visit: { event: EVENT, well: WELL, crew: CREW, method: 'low-flow', arrived: '2026-05-04T09:30:00-05:00' },
  purge: { visit: VISIT, began: '2026-05-04T10:00:00-05:00' },
  reading: { purge: PURGE, ph: '7.01', temperatureC: '12.1', turbidityNtu: '4.0', flowMlPerMin: '200' },
};
