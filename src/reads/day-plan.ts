import { Problem } from '../protocol/problem.ts';
import { wholeStanding } from '../rules/equipment/blank-standing.ts';
import type { EventRecord, ResultRecord } from '../rules/equipment/equipment-records.ts';
import {
  type CarriedForDay,
  type DayPlanGiven,
  type DayPlanTold,
  dayPlanTold,
} from '../rules/equipment-told/day-plan-told.ts';
import { readable } from '../rules/readable.ts';
import { endsWell } from '../rules/well-order/ends-well.ts';
import type { WellLevel } from '../rules/well-order/well-level.ts';
import {
  type AssignedWell,
  assignedWells,
  blanksOfDay,
  type CarriedUnit,
  carriedUnits,
  lastResults,
  namedUnits,
  visitedWells,
} from '../store/read/crew-day.ts';
import { recordStates } from '../store/read/record-states.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { dayAtSite } from './day-at-site.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { groupBy } from './group-by.ts';
import { inSight } from './in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { unitsNow } from './unit-now.ts';

type Asked = DayPlanGiven & Pick<Reader, 'device'> & { readonly now: string };

/** @throws Problem `bad_request` where no crew is named and none carries the device */
async function crewOf(tx: ReadTx, { crew, device }: Asked): Promise<string> {
  if (crew !== undefined) return (await inSight(tx, null, 'crew', crew)).id;
  const [row] = device === null ? [] : await recordStates(tx, [device], null);
  const its = row?.state.fields.crew;
  if (typeof its === 'string') return its;
  throw new Problem('bad_request', 'no crew is named, and none carries the device that asks: name one as crew=ID', {
    pointer: '/crew',
  });
}

async function withStates(tx: ReadTx, units: readonly CarriedUnit[]): Promise<CarriedForDay[]> {
  const states = await unitsNow(
    tx,
    units.map(({ id }) => id),
  );
  return units.map(({ id, label, type, use }, at) => {
    const fields = { label, type, use, ownership: 'owned' } as CarriedForDay['fields'];
    return { id, fields, state: states[at]?.state ?? 'unknown' };
  });
}

interface Classed {
  readonly well: string;
  readonly assignedClass: string | null;
}

/** Of a well its class and what was last found there before the day began, whoever may read that: it decides the order. */
async function levelsOf(tx: ReadTx, wells: readonly Classed[], before: string): Promise<WellLevel[]> {
  const classes = new Map(wells.map(({ well, assignedClass }) => [well, assignedClass]));
  const found = groupBy(await lastResults(tx, [...classes.keys()], before), ({ well }) => well);
  return [...classes].map(([well, assignedClass]) => {
    const results = (found.get(well) ?? []) as unknown as WellLevel['results'];
    return { well, assignedClass: assignedClass as WellLevel['assignedClass'], results };
  });
}

function isDone({ ended, toSample }: AssignedWell): boolean {
  return ended.some((visit) => endsWell(visit, toSample));
}

/**
 * The day of a crew in an event: its wells from the least to the most contaminated, the decons between them, and where it
 * went from dirty to clean so far.
 *
 * @throws Problem `record_missing` for an event that the reader does not see, or a crew that is not there
 */
export async function eventDayPlan(
  tx: ReadTx,
  feeds: readonly string[] | null,
  event: string,
  asked: Asked,
): Promise<DayPlanTold> {
  const { state } = await inSight(tx, feeds, 'event', event);
  const crew = await crewOf(tx, asked);
  const { day, timeZone, from, until } = await dayAtSite(tx, String(state.fields.site), asked);
  const of = { event, crew, from, until };
  const assigned = await assignedWells(tx, of);
  const visited = await visitedWells(tx, of);
  const atWork = new Set(visited.flatMap(({ well, isOpen }) => (isOpen ? [well] : [])));
  const wells = assigned.filter((one) => !isDone(one) && !atWork.has(one.well));
  const blanks = await blanksOfDay(tx, [...new Set(visited.flatMap((one) => one.units))], of);
  const carried = await carriedUnits(tx, of);
  const known = new Set(carried.map(({ id }) => id));
  const named = [...wells.flatMap(({ dedicated, claimed }) => [...dedicated, ...(claimed ? [claimed] : [])])];
  const others = await namedUnits(tx, [...new Set([...named, ...visited.flatMap((one) => one.units)])]);
  const units = await withStates(tx, [...carried, ...others.filter(({ id }) => !known.has(id))]);
  const levels = await levelsOf(tx, [...assigned, ...visited], from);
  const { plan } = (readable(state) as unknown as EventRecord).fields;
  return dayPlanTold({
    event,
    crew,
    day,
    timeZone,
    wells,
    visited,
    blanks: blanks.map(({ unit, collected, results }) => ({
      unit,
      collected,
      standing: wholeStanding(results.map((fields) => ({ fields }) as ResultRecord)),
    })),
    units,
    carried: known,
    levels,
    plan: plan?.equipment ?? {},
  });
}

export function readEventDayPlan(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  event: string,
  given: DayPlanGiven & { readonly now: string },
): Promise<DayPlanTold> {
  return inRead(pool, reader.firm, async (tx) =>
    eventDayPlan(tx, await feedsInSight(tx, reader), event, { ...given, device: reader.device }),
  );
}
