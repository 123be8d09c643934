import {
  collectionJson,
  datastreamJson,
  featureJson,
  LEVEL_SENSOR,
  type LevelQuantity,
  locationJson,
  observationJson,
  observedPropertyJson,
  sensorJson,
  thingJson,
} from '../../documents/things/thing-entities.ts';
import { Problem } from '../../protocol/problem.ts';
import type { RecordState } from '../../protocol/record.ts';
import type { MeasuringPoint } from '../../rules/well-rounds/well-records.ts';
import { recordStates } from '../../store/read/record-states.ts';
import {
  countThingLevels,
  countThingWells,
  type LevelRow,
  type Part,
  pointsOfWells,
  thingLevels,
  thingWells,
} from '../../store/read/thing-rows.ts';
import { inRead, type ReadTx } from '../../store/read/transaction.ts';
import { feedsInSight } from '../feeds-in-sight.ts';
import { groupBy } from '../group-by.ts';
import type { ReadContext } from '../read-context.ts';
import type { Reader } from '../reader.ts';
import {
  keyOf,
  type OfQuantity,
  readKey,
  readThingPath,
  THING_LINKS,
  type ThingPath,
  type ThingsAsked,
} from './thing-asked.ts';
import { levelObservation, thingWell } from './thing-facts-of.ts';

const QUANTITIES: readonly LevelQuantity[] = ['depthToWaterFt', 'waterElevationFt'];

/** Who asks, and where the addresses in the answer begin. */
interface Sight {
  readonly tx: ReadTx;
  readonly feeds: readonly string[] | null;
  readonly base: string;
}

interface Found {
  readonly items: readonly string[];
  readonly count: () => Promise<number>;
}

function missing(path: string): Problem {
  return new Problem('not_found', `${JSON.stringify(path.slice(0, 120))} is not among what you may read`);
}

const nothing: Found = { items: [], count: async () => 0 };
const only = (text: string | null): Found => (text === null ? nothing : { items: [text], count: async () => 1 });

/** A well or a level that the reader may see and that was not voided; null where there is none. */
async function record({ tx, feeds }: Sight, kind: string, key: string): Promise<RecordState | null> {
  const of = readKey(key);
  if (of === null) return null;
  const [row] = await recordStates(tx, [of.id], feeds);
  return row?.kind === kind && row.state.voided === null ? row.state : null;
}

/** Each level, or well, makes two entities, one a quantity: which of the first and last pair are in the part. */
function pairs({ top, skip }: Part): Part & { readonly from: number } {
  const first = Math.floor(skip / 2);
  return { skip: first, top: Math.ceil((skip + top) / 2) - first, from: skip - first * 2 };
}

async function observationsOf(sight: Sight, rows: readonly LevelRow[], quantities: readonly LevelQuantity[]) {
  const points = await pointsOfWells(sight.tx, [...new Set(rows.map(({ well }) => well))]);
  // what was stored has the shape of its kind, once it is read as one
  const ofWell = groupBy(points as unknown as MeasuringPoint[], ({ fields }) => fields.well);
  return rows.flatMap((row) =>
    quantities.map((quantity) =>
      observationJson(sight.base, levelObservation(row, ofWell.get(row.well) ?? [], quantity)),
    ),
  );
}

/** @param of a well and a quantity of it, a well with both, or null for all */
async function observations(sight: Sight, of: OfQuantity | { readonly id: string } | null, part: Part): Promise<Found> {
  const { tx, feeds } = sight;
  const well = of?.id ?? null;
  if (of && 'quantity' in of) {
    const items = await observationsOf(sight, await thingLevels(tx, feeds, well, part), [of.quantity]);
    return { items, count: () => countThingLevels(tx, feeds, well) };
  }
  const { from, ...half } = pairs(part);
  const items = await observationsOf(sight, await thingLevels(tx, feeds, well, half), QUANTITIES);
  return {
    items: items.slice(from, from + part.top),
    count: async () => 2 * (await countThingLevels(tx, feeds, well)),
  };
}

async function wells({ tx, feeds }: Sight, part: Part, write: (state: RecordState) => string | null): Promise<Found> {
  const states = await thingWells(tx, feeds, part);
  return { items: states.flatMap((state) => write(state) ?? []), count: () => countThingWells(tx, feeds) };
}

/** Wells without a place have no location: which ones are on a page is known only once all are looked at. */
async function locations(sight: Sight, { top, skip }: Part): Promise<Found> {
  const all = await wells(sight, { top: 1_000_000, skip: 0 }, (state) => locationJson(sight.base, thingWell(state)));
  return { items: all.items.slice(skip, skip + top), count: async () => all.items.length };
}

function streamOf({ base }: Sight, state: RecordState, quantity: LevelQuantity): string {
  return datastreamJson(base, keyOf({ id: state.id, quantity }), thingWell(state), quantity);
}

async function datastreams(sight: Sight, part: Part, quantity: LevelQuantity | null): Promise<Found> {
  if (quantity !== null) return wells(sight, part, (state) => streamOf(sight, state, quantity));
  const { from, ...half } = pairs(part);
  const states = await thingWells(sight.tx, sight.feeds, half);
  const items = states.flatMap((state) => QUANTITIES.map((one) => streamOf(sight, state, one)));
  return {
    items: items.slice(from, from + part.top),
    count: async () => 2 * (await countThingWells(sight.tx, sight.feeds)),
  };
}

function cut(items: readonly string[], { top, skip }: Part): Found {
  return { items: items.slice(skip, skip + top), count: async () => items.length };
}

function setOf(sight: Sight, { set }: ThingPath, part: Part): Promise<Found> | Found {
  const { base } = sight;
  switch (set) {
    case 'Things':
      return wells(sight, part, (state) => thingJson(base, thingWell(state)));
    case 'Locations':
      return locations(sight, part);
    case 'FeaturesOfInterest':
      return wells(sight, part, (state) => featureJson(base, thingWell(state)));
    case 'Datastreams':
      return datastreams(sight, part, null);
    case 'Observations':
      return observations(sight, null, part);
    case 'Sensors':
      return cut([sensorJson(base)], part);
    case 'ObservedProperties':
      return cut(
        QUANTITIES.map((one) => observedPropertyJson(base, one)),
        part,
      );
    case 'HistoricalLocations':
      return nothing;
  }
}

function quantityNamed(key: string): LevelQuantity | undefined {
  return QUANTITIES.find((one) => one === key);
}

async function observation(sight: Sight, key: string): Promise<string | null> {
  const of = readKey(key);
  const state = await record(sight, 'water-level', key);
  const visit = state && (await recordStates(sight.tx, [String(state.fields.visit)], sight.feeds))[0]?.state;
  if (!of || !state || !visit || visit.voided !== null) return null;
  const rows = [{ state, well: String(visit.fields.well) }];
  return (await observationsOf(sight, rows, [of.quantity]))[0] ?? null;
}

async function entityOf(sight: Sight, { set, key }: ThingPath & { readonly key: string }): Promise<string | null> {
  const { base } = sight;
  if (set === 'Sensors') return key === LEVEL_SENSOR.id ? sensorJson(base) : null;
  if (set === 'ObservedProperties') {
    const quantity = quantityNamed(key);
    return quantity === undefined ? null : observedPropertyJson(base, quantity);
  }
  if (set === 'Observations') return observation(sight, key);
  const of = readKey(key);
  const state = await record(sight, 'well', key);
  if (!state || !of || set === 'HistoricalLocations') return null;
  if (set === 'Datastreams') return streamOf(sight, state, of.quantity);
  // the id of a well alone: elevations have no place of their own
  if (of.quantity !== 'depthToWaterFt') return null;
  const write = { Things: thingJson, Locations: locationJson, FeaturesOfInterest: featureJson }[set];
  return write(base, thingWell(state));
}

/** The well that an entity is of. */
async function wellOfObservation(sight: Sight, key: string): Promise<OfQuantity | null> {
  const of = readKey(key);
  const state = await record(sight, 'water-level', key);
  const visit = state && (await recordStates(sight.tx, [String(state.fields.visit)], sight.feeds))[0]?.state;
  return of && visit ? { id: String(visit.fields.well), quantity: of.quantity } : null;
}

/** What a link of an entity leads to: one entity, or a part of a set. */
async function linked(
  sight: Sight,
  path: ThingPath & { readonly key: string },
  link: string,
  part: Part,
): Promise<Found | string | null> {
  const { set, key } = path;
  if (set === 'Sensors') return datastreams(sight, part, null);
  if (set === 'ObservedProperties') return datastreams(sight, part, quantityNamed(key) ?? null);
  const of = set === 'Observations' ? await wellOfObservation(sight, key) : readKey(key);
  if (!of) return null;
  const { id } = of;
  switch (link) {
    case 'Thing':
      return entityOf(sight, { set: 'Things', key: id });
    case 'Things':
      return only(await entityOf(sight, { set: 'Things', key: id }));
    case 'Locations':
      return only(await entityOf(sight, { set: 'Locations', key: id }));
    case 'FeatureOfInterest':
      return entityOf(sight, { set: 'FeaturesOfInterest', key: id });
    case 'Datastream':
      return entityOf(sight, { set: 'Datastreams', key: keyOf(of) });
    case 'Sensor':
      return sensorJson(sight.base);
    case 'ObservedProperty':
      return observedPropertyJson(sight.base, of.quantity);
    case 'Datastreams': {
      const state = await record(sight, 'well', id);
      return state
        ? cut(
            QUANTITIES.map((one) => streamOf(sight, state, one)),
            part,
          )
        : null;
    }
    case 'Observations':
      return observations(sight, set === 'Datastreams' ? of : { id }, part);
    default:
      return nothing;
  }
}

export interface ThingAddress {
  /** Where the addresses in the answer begin. */
  readonly base: string;
  /** "Things", or "Things('ID')". */
  readonly path: string;
  /** Of an entity: a link of it. */
  readonly link: string | null;
}

async function page(found: Found, { path, link, base }: ThingAddress, asked: ThingsAsked): Promise<string> {
  const { $top: top, $skip: skip, $count } = asked;
  const total = await found.count();
  const isLast = top === 0 || skip + top >= total;
  const address = `${base}/${[path, ...(link === null ? [] : [link])].join('/')}`;
  const query = `$top=${top}&$skip=${skip + top}${$count === 'true' ? '&$count=true' : ''}`;
  return collectionJson(found.items, {
    count: $count === 'true' ? total : null,
    next: isLast ? null : `${address}?${query}`,
  });
}

async function answer(sight: Sight, address: ThingAddress, asked: ThingsAsked): Promise<string> {
  const whole = [address.path, address.link ?? ''].join('/');
  const { set, key } = readThingPath(address.path);
  const part = { top: asked.$top, skip: asked.$skip };
  if (key === null) {
    if (address.link !== null) throw missing(whole);
    return page(await setOf(sight, { set, key }, part), address, asked);
  }
  const entity = await entityOf(sight, { set, key });
  if (entity === null) throw missing(whole);
  if (address.link === null) return `${entity}\n`;
  if (!THING_LINKS[set].includes(address.link)) throw missing(whole);
  const found = await linked(sight, { set, key }, address.link, part);
  if (found === null) throw missing(whole);
  return typeof found === 'string' ? `${found}\n` : page(found, address, asked);
}

/**
 * Wells and their levels in the shape of OGC SensorThings API 1.1 (18-088), read alone: an entity, a part of a set, or what
 * a link of an entity leads to.
 *
 * @throws Problem `not_found` for what is not there or is not to be seen by the reader
 */
export function readThings(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  address: ThingAddress,
  asked: ThingsAsked,
): Promise<string> {
  return inRead(pool, reader.firm, async (tx) => {
    const feeds = await feedsInSight(tx, reader);
    return answer({ tx, feeds, base: address.base }, address, asked);
  });
}
