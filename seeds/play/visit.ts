import { takeSample } from './bottles.ts';
import { Chance } from './chance.ts';
import { decimalOf, type PurgeShape, purgeRows, type Row } from './curves.ts';
import { cleanUnits, wetGear } from './gear.ts';
import { beginPurge, decide, gauge, happen, MINUTE_MS, read, setUpPump, sound } from './steps.ts';
import { type Arrival, arrive, leave, type Stop } from './stop.ts';
import type { Crew, Day, World } from './world.ts';

export interface VisitPlan extends Arrival {
  readonly shape: PurgeShape;
  readonly soundedFt: string;
  readonly intakeFt: number;
  readonly sample: string;
  /** What touched water besides the usual, or in its place. */
  readonly gear?: readonly string[];
  /** The cleaning of the pump afterwards is broken off, and nobody writes why. */
  readonly cleaningBrokenOff?: true;
  /** Changes lines of the log, by their number from 1 on. */
  readonly otherwise?: Readonly<Record<number, Row['fields']>>;
}

/** A purge with its log, as it will be read. */
export interface Purging {
  readonly stop: Stop;
  readonly beganMs: number;
  readonly rows: readonly Row[];
}

/** Minutes after the arrival at which the usual steps are taken. */
const GAUGED = 6;
const SOUNDED = 9;
const SET_UP = 18;
const GAUGED_AGAIN = 24;
const PURGED = 26;
/** Minutes after the first water. */
const FLOW_RAISED = 7;

function chanceOf(plan: VisitPlan): Chance {
  return new Chance([...plan.well].reduce((sum, char) => sum * 31 + char.charCodeAt(0), 7));
}

/** The log of a visit as it will be read: the same for whoever reads it. */
export function logOf(plan: VisitPlan): Row[] {
  const rows = purgeRows(plan.shape, chanceOf(plan));
  return rows.map((row, index) => ({ ...row, fields: { ...row.fields, ...plan.otherwise?.[index + 1] } }));
}

/** Level, sounding, pump, level again, first water. */
export async function startVisit(world: World, day: Day, crew: Crew, plan: VisitPlan): Promise<Purging> {
  const stop = await arrive(world, day, crew, plan);
  const at = (minutes: number) => day.ms(plan.at) + minutes * MINUTE_MS;
  const { staticFt } = plan.shape;
  await gauge(stop, at(GAUGED), 'before-purge', decimalOf(staticFt, 2));
  await sound(stop, at(SOUNDED), plan.soundedFt);
  await setUpPump(stop, at(SET_UP), plan.intakeFt);
  await gauge(stop, at(GAUGED_AGAIN), 'before-purge', decimalOf(staticFt - 0.01, 2));
  await beginPurge(stop, at(PURGED));
  return { stop, beganMs: at(PURGED), rows: logOf(plan) };
}

/** Lines of the log, from one number up to another. The flow goes up after the first. */
export async function readLog(
  { stop, beganMs, rows }: Purging,
  from: number,
  to: number,
  meter?: string,
): Promise<void> {
  for (const [index, row] of rows.entries()) {
    const number = index + 1;
    if (number < from || number > to) continue;
    await read(stop, beganMs + row.seconds * 1_000, row.fields, meter);
    const flow = rows[1]?.fields.flowMlPerMin;
    if (number === 1 && flow) {
      await happen(stop, beganMs + FLOW_RAISED * MINUTE_MS, 'flow-changed', { flowMlPerMin: flow });
    }
  }
}

/** Minutes after the last line of the log. */
const LEFT = 20;
const CLEANING = 22;

function lastMs({ beganMs, rows }: Pick<Purging, 'beganMs' | 'rows'>): number {
  return beganMs + (rows.at(-1)?.seconds ?? 0) * 1_000;
}

/** When the crew says that the water is stable. */
export function calledMs(purging: Purging): number {
  return lastMs(purging) + MINUTE_MS;
}

/** At the truck, what was at the well is cleaned for the next one. */
async function cleanAfter({ stop, ...log }: Purging, { gear, cleaningBrokenOff }: VisitPlan): Promise<void> {
  const brokenOff = cleaningBrokenOff && stop.pump !== null ? [stop.pump] : [];
  await cleanUnits(stop, lastMs(log) + CLEANING * MINUTE_MS, gear ?? wetGear(stop), brokenOff);
}

/** The sheet of cleanings lies on top: it is typed first, so that no pump seems to go dirty into the next well. */
async function typeCleanings(world: World, day: Day, crew: Crew, plan: VisitPlan): Promise<void> {
  const { phone = crew.phones[0], reader = crew.people[1], gear } = plan;
  const log = { beganMs: day.ms(plan.at) + PURGED * MINUTE_MS, rows: logOf(plan) };
  const labels = gear ?? wetGear({ crew, pump: crew.kit.pump });
  await cleanUnits({ world, phone, reader, paper: true }, lastMs(log) + CLEANING * MINUTE_MS, labels);
}

/** Called stable, and on from there. */
export async function finishVisit(purging: Purging, plan: VisitPlan): Promise<void> {
  await decide(purging.stop, calledMs(purging), 'stable', true);
  await sampleAndLeave(purging, plan);
}

/** Cell off, bottles, last level, away; and the gear is cleaned. */
export async function sampleAndLeave(purging: Purging, plan: VisitPlan): Promise<void> {
  const { stop } = purging;
  const at = (minutes: number) => lastMs(purging) + minutes * MINUTE_MS;
  await happen(stop, at(2), 'cell-off');
  await takeSample(stop, at(4), plan.sample);
  await gauge(stop, at(15), 'final', decimalOf(plan.shape.staticFt + plan.shape.drawdownFt / 2, 2));
  await leave(stop, at(LEFT), { outcome: 'sampled' });
  if (!stop.paper) await cleanAfter(purging, plan);
}

export async function usualVisit(world: World, day: Day, crew: Crew, plan: VisitPlan): Promise<Stop> {
  if (plan.paper) await typeCleanings(world, day, crew, plan);
  const purging = await startVisit(world, day, crew, plan);
  await readLog(purging, 1, plan.shape.readings);
  await finishVisit(purging, plan);
  return purging.stop;
}
