import { takeSample } from './bottles.ts';
import { decimalOf, type Row } from './curves.ts';
import { cleanUnits, wetGear } from './gear.ts';
import { decide, gauge, happen, MINUTE_MS, read } from './steps.ts';
import { arrive, leave, note } from './stop.ts';
import { finishVisit, readLog, startVisit, usualVisit } from './visit.ts';
import { PLANS } from './visit-plans.ts';
import type { Crew, Day, World } from './world.ts';

const SWAPPED_AFTER = 5;

/** The pH of the crew's meter wanders; the rented one takes its place, and the window begins anew. */
export async function swapMeter(world: World, day: Day, crew: Crew, at: string): Promise<void> {
  const gear = [...wetGear({ crew, pump: crew.kit.pump }), 'Meter 4'];
  const plan = { ...PLANS.mw14, at, gear, otherwise: { 4: { ph: '7.64' }, 5: { ph: '6.31' } } };
  const purging = await startVisit(world, day, crew, plan);
  await readLog(purging, 1, SWAPPED_AFTER);
  const swapMs = purging.beganMs + (SWAPPED_AFTER * 5 + 2) * MINUTE_MS;
  const remark = 'The pH wanders by more than a unit; junction dry.';
  await happen(purging.stop, swapMs, 'meter-swapped', { meter: world.id('unit', 'Meter 4'), remark });
  await readLog(purging, SWAPPED_AFTER + 1, plan.shape.readings, 'Meter 4');
  await finishVisit(purging, plan);
  world.tell(crew.name, 'MW-14 sampled, after a change of meters');
}

/** Feet that the level falls between two readings of a well that gives less than is drawn. */
const FALLS_FT = 1.13;

function fallingLevels(staticFt: number, count: number): Readonly<Record<number, Row['fields']>> {
  const numbers = Array.from({ length: count }, (_, index) => index + 1);
  const level = (number: number) => ({ depthToWaterFt: decimalOf(staticFt + FALLS_FT * number, 2) });
  return Object.fromEntries(numbers.map((number) => [number, level(number)]));
}

/** The level goes down to the pump at the lowest flow there is: the well is called purged dry, without a sample. */
export async function purgeDry(world: World, day: Day, crew: Crew, at: string): Promise<void> {
  const { staticFt, readings } = PLANS.mw6.shape;
  const plan = { ...PLANS.mw6, at, otherwise: fallingLevels(staticFt, readings) };
  const purging = await startVisit(world, day, crew, plan);
  await readLog(purging, 1, readings);
  const { stop, beganMs } = purging;
  const minute = (minutes: number) => beganMs + (readings * 5 + minutes) * MINUTE_MS;
  await happen(stop, minute(1), 'pump-stopped', { remark: 'The pump draws air.' });
  await decide(stop, minute(2), 'purged-dry', false);
  await gauge(stop, minute(40), 'recovery', decimalOf(staticFt + FALLS_FT * readings - 0.4, 2));
  const reason = 'Purged dry at 120 mL/min; 0.4 ft of recovery in 38 minutes. To be sampled once it has recovered.';
  await leave(stop, minute(42), { outcome: 'purged-dry', reason });
  await cleanUnits(stop, minute(44), wetGear(stop));
  world.tell(crew.name, 'MW-6 purged dry');
}

const FLOWING_READINGS = 8;

function flowingRow(number: number): Row['fields'] {
  const left = 0.6 ** number;
  return {
    temperatureC: decimalOf(11.2 + 0.9 * left, 2),
    ph: decimalOf(7.44 + 0.1 * left, 2),
    specificConductanceUsPerCm: decimalOf(428 + 30 * left, 0),
    dissolvedOxygenMgPerL: decimalOf(0.12 + 0.8 * left, 2),
    orpMv: decimalOf(-142 + 60 * left, 0),
    turbidityNtu: decimalOf(1.1 + 6 * left, 1),
    flowMlPerMin: '2400',
  };
}

/** A well that flows at the surface needs no pump and has no depth to water; nothing is asked about it. */
export async function sampleFlowing(world: World, day: Day, crew: Crew, at: string): Promise<void> {
  const stop = await arrive(world, day, crew, { well: 'MW-7', at, method: 'flowing', pump: null });
  const minute = (minutes: number) => day.ms(at) + minutes * MINUTE_MS;
  const { visit, phone } = stop;
  await note(stop, minute(5), 'water-level', { visit, purpose: 'before-purge', state: 'flowing' });
  stop.purge = (await phone.client.record('purge', { visit, began: phone.clock.wall() })).id;
  for (let number = 1; number <= FLOWING_READINGS; number += 1) {
    await read(stop, minute(5 + 5 * number), flowingRow(number));
  }
  await decide(stop, minute(47), 'stable', true);
  await happen(stop, minute(48), 'cell-off');
  await takeSample(stop, minute(50), 'OCT-107');
  await leave(stop, minute(60), { outcome: 'sampled' });
  await cleanUnits(stop, minute(61), [crew.kit.meter]);
  world.tell(crew.name, 'MW-7 sampled, flowing');
}

/** The light goes and the crew calls it stable, though the turbidity is not at rest: both stand. */
export async function callTooEarly(world: World, day: Day, crew: Crew, at: string): Promise<void> {
  const restless = { 9: { turbidityNtu: '31.2' }, 10: { turbidityNtu: '19.4' }, 11: { turbidityNtu: '27.8' } };
  await usualVisit(world, day, crew, { ...PLANS.mw5, at, otherwise: { ...restless, 12: { turbidityNtu: '18.6' } } });
  world.tell(crew.name, 'MW-5 sampled, called stable while its turbidity was not');
}

/** Nobody gets to the well: a visit with its reason, and nothing measured. */
export async function findNoAccess(world: World, day: Day, crew: Crew, at: string): Promise<void> {
  const stop = await arrive(world, day, crew, { well: 'MW-11', at, method: 'gauging', pump: null });
  const reason = 'A loaded trailer stands on the vault; the dock expects it until Friday.';
  await leave(stop, day.ms(at) + 12 * MINUTE_MS, { outcome: 'no-access', reason });
  world.tell(crew.name, 'MW-11: no access');
}
