import type { GeoLevel, GeoWell } from '../../documents/geo/geo-facts.ts';
import type { FieldsOf } from '../../protocol/kind.ts';
import type { visit } from '../../protocol/kinds/visit.ts';
import type { waterLevel } from '../../protocol/kinds/water-level.ts';
import type { well } from '../../protocol/kinds/well.ts';
import type { RecordState } from '../../protocol/record.ts';
import { measuringPointAt } from '../../rules/decide/measuring-point-at.ts';
import { waterElevation } from '../../rules/exchange/water-elevation.ts';
import { readable } from '../../rules/readable.ts';
import type { MeasuringPoint } from '../../rules/well-rounds/well-records.ts';
import { feedStates } from '../../store/read/feed-states.ts';
import { siteEvents } from '../../store/read/site-levels.ts';
import { inRead } from '../../store/read/transaction.ts';
import { feedsInSight } from '../feeds-in-sight.ts';
import { groupBy } from '../group-by.ts';
import { inSight } from '../in-sight.ts';
import type { ReadContext } from '../read-context.ts';
import type { Reader } from '../reader.ts';

export type Well = RecordState<FieldsOf<typeof well>>;
type Visit = RecordState<FieldsOf<typeof visit>>;
type Level = RecordState<FieldsOf<typeof waterLevel>>;

/** The wells of a site with their measuring points. */
export interface SiteMap {
  readonly site: string;
  readonly siteName: string;
  readonly wells: readonly Well[];
  readonly points: ReadonlyMap<string, readonly MeasuringPoint[]>;
}

function standing<Record>(states: readonly RecordState[], kind: string): readonly Record[] {
  // what was stored has the shape of its kind, once it is read as one
  return states
    .filter((state) => state.kind === kind && state.voided === null)
    .map((state) => readable(state) as unknown as Record);
}

/** Only what is there: a missing property says that nothing is known, and no null does. */
export function known<Values extends object>(values: Values): { [Name in keyof Values]?: NonNullable<Values[Name]> } {
  const entries = Object.entries(values).filter(([, value]) => value !== undefined && value !== null);
  return Object.fromEntries(entries) as { [Name in keyof Values]?: NonNullable<Values[Name]> };
}

export function geoWell(map: SiteMap, of: Well, now: string): GeoWell {
  const { name, latitudeDeg, longitudeDeg, totalDepthFt, screenTopFt, screenBottomFt, depthsFrom } = of.fields;
  const point = measuringPointAt(map.points.get(of.id) ?? [], now) as MeasuringPoint | undefined;
  return {
    id: of.id,
    name,
    site: map.siteName,
    standing: of.fields.standing,
    depthsFrom,
    ...known({ latitudeDeg, longitudeDeg, totalDepthFt, screenTopFt, screenBottomFt }),
    ...known({ measuringPointElevationFt: point?.fields.elevationFt, elevationDatum: point?.fields.datum }),
  };
}

function geoLevel(map: SiteMap, wells: ReadonlyMap<string, GeoWell>, of: Level, visits: ReadonlyMap<string, Visit>) {
  const wellId = visits.get(of.fields.visit)?.fields.well ?? '';
  const its = wells.get(wellId);
  // at a visit that was voided, or to a well that was: nothing says where it was measured
  if (!its) return [];
  const { purpose, state, depthToWaterFt, measuringPoint, remark, observed } = of.fields;
  const seen = waterElevation(map.points.get(wellId) ?? [], { depthToWaterFt, measuringPoint, at: observed.at });
  const level: GeoLevel = {
    id: of.id,
    well: its,
    observedAt: observed.at,
    purpose,
    state,
    ...known({ depthToWaterFt, remark, waterElevationFt: seen.waterElevationFt, measuringPoint: seen.point }),
  };
  return [level];
}

function byObserved(a: GeoLevel, b: GeoLevel): number {
  return Date.parse(a.observedAt) - Date.parse(b.observedAt) || (a.id < b.id ? -1 : 1);
}

export interface SiteAsked {
  readonly map: SiteMap;
  /** The events at the site that the reader follows. */
  readonly events: readonly string[];
}

/** @throws Problem `record_missing` for a site that is not there or that the reader does not follow */
export function readSiteMap({ pool }: Pick<ReadContext, 'pool'>, reader: Reader, site: string): Promise<SiteAsked> {
  return inRead(pool, reader.firm, async (tx) => {
    const feeds = await feedsInSight(tx, reader);
    const { state } = await inSight(tx, feeds, 'site', site);
    const states = await feedStates(tx, [`site:${site}`], ['well', 'measuring-point']);
    const wells = standing<Well>(states, 'well').toSorted((a, b) => (a.fields.name < b.fields.name ? -1 : 1));
    const points = groupBy(standing<MeasuringPoint>(states, 'measuring-point'), ({ fields }) => fields.well);
    const map = { site, siteName: String(state.fields.name), wells, points };
    return { map, events: await siteEvents(tx, site, feeds) };
  });
}

/** The levels of a site, event by event, so that the longest series take no more memory than those of one event. */
export async function* siteLevels(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  { map, events }: SiteAsked,
  now: string,
): AsyncGenerator<readonly GeoLevel[]> {
  const wells = new Map(map.wells.map((one) => [one.id, geoWell(map, one, now)]));
  for (const event of events) {
    const kinds = ['water-level', 'visit'];
    const states = await inRead(pool, reader.firm, (tx) => feedStates(tx, [`event:${event}`], kinds));
    const visits = new Map(standing<Visit>(states, 'visit').map((one) => [one.id, one]));
    yield standing<Level>(states, 'water-level')
      .flatMap((one) => geoLevel(map, wells, one, visits))
      .toSorted(byObserved);
  }
}
