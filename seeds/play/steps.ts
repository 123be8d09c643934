import type { Fields } from '../../src/client/check-fields.ts';
import { pointOf } from '../firm/well-entries.ts';
import type { Row } from './curves.ts';
import { note, reach, type Stop, timeOf } from './stop.ts';

export const MINUTE_MS = 60_000;

/** A depth to water, below the newest measuring point of the well. */
export function gauge(stop: Stop, ms: number, purpose: string, depthToWaterFt: string): Promise<string> {
  const { world, well, visit, crew } = stop;
  const measuringPoint = pointOf(world.id, well);
  const tape = world.id('unit', crew.kit.tape);
  return note(stop, ms, 'water-level', { visit, purpose, state: 'measured', depthToWaterFt, measuringPoint, tape });
}

export function sound(stop: Stop, ms: number, depthToBottomFt: string): Promise<string> {
  const { world, well, visit, crew } = stop;
  const measuringPoint = pointOf(world.id, well);
  return note(stop, ms, 'sounding', {
    visit,
    depthToBottomFt,
    measuringPoint,
    tape: world.id('unit', crew.kit.tape),
  });
}

const PSI_PER_FOOT_OF_WATER = 0.4335;
/** Line left above ground. */
const SPARE_TUBING_FT = 8;

/** Drive pressure in feet of water: 15 ft more than the depth of the pump. Common practice, no source. */
function drivePressurePsi(intakeFt: number): string {
  return ((intakeFt + 15) * PSI_PER_FOOT_OF_WATER).toFixed(1);
}

/** What drives the pump stands beside the well and stays dry. */
async function standBeside(stop: Stop, ms: number): Promise<void> {
  const { world, visit, crew } = stop;
  const unit = world.id('unit', crew.kit.controller);
  await note(stop, ms, 'unit-use', { visit, unit, how: 'beside-the-well', from: timeOf(stop, ms) });
}

export async function setUpPump(stop: Stop, ms: number, intakeFt: number): Promise<string> {
  const { world, visit, pump, crew } = stop;
  await standBeside(stop, ms);
  return note(stop, ms, 'pump-set-up', {
    visit,
    pump: world.id('unit', pump ?? crew.kit.pump),
    intakeDepthFt: intakeFt.toFixed(1),
    tubingInsideDiameterIn: '0.17',
    tubingLengthFt: (intakeFt + SPARE_TUBING_FT).toFixed(1),
    tubingMaterial: 'polyethylene',
    bladderMaterial: 'polyethylene',
    drivePressurePsi: drivePressurePsi(intakeFt),
    refillS: '10',
    dischargeS: '5',
    flowCell: world.id('unit', crew.kit.cell),
  });
}

export async function beginPurge(stop: Stop, ms: number): Promise<void> {
  await reach(stop, ms);
  const { visit, phone } = stop;
  stop.purge = (await phone.client.record('purge', { visit, began: timeOf(stop, ms) })).id;
}

/** One line of the purge log. */
export async function read(stop: Stop, ms: number, fields: Row['fields'], meter?: string): Promise<void> {
  const unit = stop.world.id('unit', meter ?? stop.crew.kit.meter);
  stop.readings.push(await note(stop, ms, 'reading', { purge: stop.purge, meter: unit, ...fields }));
}

export function happen(stop: Stop, ms: number, type: string, more: Fields = {}): Promise<string> {
  return note(stop, ms, 'occurrence', { purge: stop.purge, type, ...more });
}

/** The stabilization call of the person, with what the phone showed. */
export function decide(
  stop: Stop,
  ms: number,
  decision: string,
  shownStable: boolean,
  remark?: string,
): Promise<string> {
  const shown = {
    stable: shownStable,
    criteria: 'epa-region-1-low-stress-rev-4',
    window: stop.readings.slice(-3),
  };
  return note(stop, ms, 'call', { purge: stop.purge, decision, shown, ...(remark === undefined ? {} : { remark }) });
}
