import { CHECK_LIMIT_SETS } from '../catalog/calibration/check-limit-sets.ts';
import type { RecordState } from '../protocol/record.ts';
import type { CalibrationAsked } from '../rules/calibration/calibration-asked.ts';
import type {
  CheckRecord,
  EventRecord,
  MeterReadingRecord,
  ServiceRecord,
  UnitRecord,
} from '../rules/equipment/equipment-records.ts';
import { failureOf } from '../rules/equipment/failed-check.ts';
import { type MeterCheck, meterCheck, meterChecks } from '../rules/equipment/meters/meter-check.ts';
import { momentOf } from '../rules/equipment/moment.ts';
import { type AskedOf, calibrationsOf } from '../rules/equipment/plans-of.ts';
import {
  type ChecksOfMeter,
  type ChecksOfMeterGiven,
  checksOfMeter,
  type MeterVisit,
} from '../rules/meter-told/checks-of-meter.ts';
import { type VisitMeterChecks, visitMeterChecks } from '../rules/meter-told/meter-checks-of-visit.ts';
import { type MeterUsable, type MeterUsableGiven, meterUsable } from '../rules/meter-told/meter-usable.ts';
import { readable } from '../rules/readable.ts';
import { instantMs } from '../science/instant-ms.ts';
import {
  checksOfUnits,
  eventOfUnit,
  type MeterVisitRow,
  MOST_CHECKS,
  MOST_METER_VISITS,
  meterVisitRows,
} from '../store/read/meter-checks.ts';
import { naturalOrder } from '../store/read/record-order.ts';
import { recordPages } from '../store/read/record-pages.ts';
import { recordStates } from '../store/read/record-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { visitRecords } from '../store/read/visit-records.ts';
import { inSight } from './in-sight.ts';
import { unitsNow } from './unit-now.ts';

type Feeds = readonly string[] | null;

const DAY_MS = 86_400_000;
/** Around what is asked about, checks of so many days before and after are looked at. */
const AROUND_DAYS = 31;
/** Inspections that lie further back than so many were followed by others. */
const MOST_SERVICES = 100;
const FIRST_DAY = '1970-01-01T00:00:00Z';

/** How rounds are cut hangs on no limits: any set does where the plan names none. */
const ANY_LIMITS: CalibrationAsked = { set: CHECK_LIMIT_SETS['usgs-field-manual'], options: {}, longestH: 24 };

function daysFrom(at: string, days: number): string {
  return new Date(instantMs(at) + days * DAY_MS).toISOString();
}

/** What is stored has the shape of its kind, once it is read as one. */
function asRecord<Record>(state: RecordState): Record {
  return readable(state) as unknown as Record;
}

async function checksOf(tx: ReadTx, units: readonly string[], from: string, until: string): Promise<MeterCheck[]> {
  const states = await checksOfUnits(tx, units, from, until);
  return states.map((state) => meterCheck(asRecord<CheckRecord>(state)));
}

async function statesOf(tx: ReadTx, ids: readonly string[]): Promise<ReadonlyMap<string, RecordState>> {
  const rows = await recordStates(tx, [...new Set(ids)], null);
  return new Map(rows.map(({ id, state }) => [id, state]));
}

function askedOf(events: Iterable<RecordState>): AskedOf {
  return calibrationsOf({ events: [...events].map((state) => asRecord<EventRecord>(state)) });
}

/** The event that is named, else the one for which the meter is at work; and what its plan asks. */
async function eventFor(tx: ReadTx, feeds: Feeds, unit: string, at: string, named: string | undefined) {
  const event = named ?? (await eventOfUnit(tx, unit, at, feeds));
  if (event === null) return { event, asked: null };
  const { state } = await inSight(tx, feeds, 'event', event);
  return { event, asked: askedOf([state])(event) };
}

/** The last that was done to a unit, in no order; what it failed is among it. */
async function lastServices(tx: ReadTx, unit: string): Promise<ServiceRecord[]> {
  const filter = { equal: { unit }, includeVoided: false, feeds: null };
  const bounds = { after: null, before: null, limit: MOST_SERVICES, backward: true };
  const rows = await recordPages(tx, 'unit-service', naturalOrder('unit-service'), null, filter, bounds);
  return rows.map(({ state }) => asRecord<ServiceRecord>(state));
}

/**
 * Whether a meter may be used, from its stored checks and the plan of the event for which it is at work.
 *
 * @throws Problem `record_missing` for a unit or an event that is not there, or that the reader does not see
 */
export async function mayMeterBeUsed(
  tx: ReadTx,
  feeds: Feeds,
  id: string,
  given: MeterUsableGiven & { readonly at: string },
): Promise<MeterUsable> {
  const { state } = await inSight(tx, feeds, 'unit', id);
  const { event, asked } = await eventFor(tx, feeds, id, given.at, given.event);
  // those of the day after too: a check that lies later than now says that a clock is wrong
  const checks = await checksOf(tx, [id], FIRST_DAY, daysFrom(given.at, 1));
  const [now] = await unitsNow(tx, [id]);
  return meterUsable({
    unit: asRecord<UnitRecord>(state),
    checks,
    at: given.at,
    event,
    asked,
    outOfService: now?.state === 'out-of-service' ? now.sentence : null,
    failedCheck: failureOf(String(state.fields.label), await lastServices(tx, id)),
    parameter: given.parameter,
  });
}

function countsOf(row: MeterVisitRow): MeterVisit['counts'] {
  return {
    temperature: row.temperature,
    ph: row.ph,
    'specific-conductance': row.conductance,
    'dissolved-oxygen': row.oxygen,
    orp: row.orp,
    turbidity: row.turbidity,
  };
}

/** The visits of rows with their wells and the plans of their events, in two statements. */
async function placedVisits(tx: ReadTx, rows: readonly MeterVisitRow[]): Promise<MeterVisit[]> {
  const near = await statesOf(
    tx,
    rows.flatMap(({ visit, first, last }) => [visit, first, last]),
  );
  const fieldsOf = (id: string) => near.get(id)?.fields ?? {};
  const ends = rows.flatMap(({ visit }) => [String(fieldsOf(visit).well), String(fieldsOf(visit).event)]);
  const far = await statesOf(tx, ends);
  const asked = askedOf([...far.values()].filter(({ kind }) => kind === 'event'));
  const moment = (id: string) => {
    const record = asRecord<MeterReadingRecord>(near.get(id) as RecordState);
    return momentOf(record, record.fields.observed.at, record.fields.observed);
  };
  return rows.map((row) => {
    const { well, event } = fieldsOf(row.visit) as { readonly well: string; readonly event: string };
    const [first, last] = [moment(row.first), moment(row.last)];
    const wellName = String(far.get(well)?.fields.name ?? well);
    return { visit: row.visit, event, well, wellName, first, last, counts: countsOf(row), asked: asked(event) };
  });
}

/**
 * The checks of a meter and the visits whose readings they stand before and after, in a bounded number of statements.
 *
 * @throws Problem `record_missing` for a unit or an event that is not there, or that the reader does not see
 */
export async function checksOfOneMeter(
  tx: ReadTx,
  feeds: Feeds,
  id: string,
  given: ChecksOfMeterGiven & { readonly until: string },
): Promise<ChecksOfMeter> {
  const { state } = await inSight(tx, feeds, 'unit', id);
  const { until } = given;
  const from = given.from ?? daysFrom(until, -AROUND_DAYS);
  const { event, asked } = await eventFor(tx, feeds, id, until, given.event);
  const checks = await checksOf(tx, [id], daysFrom(from, -AROUND_DAYS), daysFrom(until, AROUND_DAYS));
  const rows = await meterVisitRows(tx, id, [from, until], feeds);
  const visits = await placedVisits(tx, rows.slice(0, MOST_METER_VISITS));
  return checksOfMeter(
    {
      unit: asRecord<UnitRecord>(state),
      checks,
      visits,
      from,
      until,
      fromMs: instantMs(from),
      untilMs: instantMs(until),
      event,
      asked,
      more: rows.length > MOST_METER_VISITS || checks.length >= MOST_CHECKS,
    },
    ANY_LIMITS,
  );
}

function spanOf(readings: readonly MeterReadingRecord[], arrived: string): readonly [string, string] {
  const times = readings.map(({ fields }) => instantMs(fields.observed.at));
  const [first, last] = [Math.min(instantMs(arrived), ...times), Math.max(instantMs(arrived), ...times)];
  return [new Date(first).toISOString(), new Date(last).toISOString()];
}

/**
 * Which checks of its meters stand before and after the readings of a visit.
 *
 * @throws Problem `record_missing` for a visit that is not there, or that the reader does not see
 */
export async function meterChecksOfVisit(tx: ReadTx, feeds: Feeds, id: string): Promise<VisitMeterChecks> {
  const { state } = await inSight(tx, feeds, 'visit', id);
  const { event, arrived } = state.fields as { readonly event: string; readonly arrived: string };
  const all = await visitRecords(tx, id);
  const purges = new Set(all.filter(({ kind, voided }) => kind === 'purge' && voided === null).map((one) => one.id));
  const readings = all
    .filter(({ kind, voided }) => kind === 'reading' && voided === null)
    .map((one) => asRecord<MeterReadingRecord>(one))
    .filter(({ fields }) => purges.has(fields.purge));
  const meters = [...new Set(readings.flatMap(({ fields }) => fields.meter ?? []))];
  const [first, last] = spanOf(readings, arrived);
  const near = await statesOf(tx, [event, ...meters]);
  const checks = await checksOfUnits(tx, meters, daysFrom(first, -AROUND_DAYS), daysFrom(last, AROUND_DAYS));
  const events = [...near.values()].filter(({ kind }) => kind === 'event');
  return visitMeterChecks(
    {
      visit: id,
      event,
      asked: askedOf(events)(event),
      readings,
      checks: meterChecks(checks.map((one) => asRecord<CheckRecord>(one))),
      labels: new Map([...near].map(([unit, { fields }]) => [unit, String(fields.label ?? unit)])),
    },
    ANY_LIMITS,
  );
}
