import type { DeconProtocolId, DeconStep } from '../../src/catalog/decon/decon-protocol.ts';
import { deconProtocol } from '../../src/catalog/decon/decon-protocols.ts';
import type { Fields } from '../../src/client/check-fields.ts';
import type { UNIT_TYPES } from '../../src/protocol/kinds/unit.ts';
import type { Observed } from '../../src/protocol/record.ts';
import { gearOfUnit } from '../../src/rules/decon/gear-of-unit.ts';
import { stepsForGear } from '../../src/rules/decon/steps-for-unit.ts';
import { UNITS } from '../firm/equipment.ts';
import { stamp } from './clock.ts';
import { MINUTE_MS } from './steps.ts';
import { reach, type Stop } from './stop.ts';

/** Where gear is cleaned and by whom: at the truck, or on a sheet that is typed later. */
export type AtTheTruck = Pick<Stop, 'world' | 'phone' | 'paper' | 'reader'>;

type UnitType = (typeof UNIT_TYPES)[number];

/** A pump is flushed and then rinsed for PFAS, with a new bladder and new tubing; a tape is wiped, a meter rinsed. */
const PROTOCOLS: Partial<Record<UnitType, readonly DeconProtocolId[]>> = {
  'bladder-pump': ['pump-flush', 'pfas-free-rinse'],
  'water-level-tape': ['tape-wipe-down'],
  'multi-parameter-meter': ['meter-rinse'],
  'flow-cell': ['meter-rinse'],
};

const DRUM = 'Drum 3';
const LOT: Readonly<Record<string, string>> = { bladder: 'BL-2609', tubing: 'TU-2607' };
/** A step takes a minute, a protocol one more; the second person sees to what is small meanwhile. */
const CLEANED_AFTER = 17;

function typeOf(label: string): UnitType {
  const unit = UNITS.find((one) => one.label === label);
  if (!unit) throw new Error(`the firm has no ${label}`);
  return unit.type;
}

/** When something was done, as the phone shows it, or the sheet. */
function shownAt({ world, phone, paper }: AtTheTruck, ms: number): string {
  return stamp(paper ? ms : ms + phone.clock.aheadMs, world.zone);
}

function seen(here: AtTheTruck, ms: number): Promise<Observed> {
  const readBy = here.world.id('member', here.reader);
  const at = shownAt(here, ms);
  return here.phone.client.observed({ readBy, at, captured: here.paper ? 'from-paper' : 'at-the-well' });
}

/** A bladder or a length of tubing out of its bag. */
async function newPart(here: AtTheTruck, type: string, label: string): Promise<string> {
  const material = 'polyethylene';
  return (await here.phone.client.record('part', { type, label, lot: LOT[type], material })).id;
}

async function fieldsOfStep(here: AtTheTruck, step: DeconStep, unit: string, ms: number): Promise<Fields> {
  const [fluid] = step.fluids;
  const part = step.change && (await newPart(here, step.change, `${unit}, ${shownAt(here, ms).slice(0, 16)}`));
  return {
    step: step.id,
    done: true,
    ...(fluid ? { fluid: fluid.replaceAll('-', ' ') } : {}),
    ...(part ? { part } : {}),
  };
}

function stepsOf(protocol: DeconProtocolId, label: string): readonly DeconStep[] {
  const [found, gear] = [deconProtocol(protocol), gearOfUnit(typeOf(label))];
  if (!found || !gear) throw new Error(`${label} is not cleaned by ${protocol}`);
  return stepsForGear(found, gear).filter(({ when }) => when === undefined);
}

interface Cleaning {
  readonly label: string;
  readonly protocol: DeconProtocolId;
  readonly fromMs: number;
  /** Steps that are left out without a word, the last ones. */
  readonly leftOut: number;
}

/** @returns when it was done */
async function clean(here: AtTheTruck, { label, protocol, fromMs, leftOut }: Cleaning): Promise<number> {
  const { world, phone } = here;
  const all = stepsOf(protocol, label);
  const steps = all.slice(0, all.length - leftOut);
  const untilMs = fromMs + (all.length + 1) * MINUTE_MS;
  const { id } = await phone.client.record('decon', {
    unit: world.id('unit', label),
    protocol,
    event: world.event,
    began: shownAt(here, fromMs),
    ended: shownAt(here, untilMs),
    wasteTo: DRUM,
    observed: await seen(here, untilMs),
  });
  for (const [index, step] of steps.entries()) {
    const ms = fromMs + (index + 1) * MINUTE_MS;
    const fields = await fieldsOfStep(here, step, label, ms);
    await phone.client.record('decon-step', { decon: id, ...fields, observed: await seen(here, ms) });
  }
  return untilMs;
}

/** @param brokenOff the last flush of the pump and all that comes after it are left out, and nobody says why */
async function cleanUnit(here: AtTheTruck, fromMs: number, label: string, brokenOff: boolean): Promise<void> {
  const protocols = PROTOCOLS[typeOf(label)] ?? [];
  let ms = fromMs;
  for (const protocol of brokenOff ? protocols.slice(0, 1) : protocols) {
    ms = await clean(here, { label, protocol, fromMs: ms, leftOut: brokenOff ? 1 : 0 });
  }
}

/** Cleans the units that touched water, by label; controllers and compressors stay dry. */
export async function cleanUnits(
  here: AtTheTruck,
  fromMs: number,
  labels: readonly string[],
  brokenOff: readonly string[] = [],
): Promise<void> {
  await reach(here, fromMs + CLEANED_AFTER * MINUTE_MS);
  for (const label of labels) await cleanUnit(here, fromMs, label, brokenOff.includes(label));
}

/** What of a crew's kit touches water. */
export function wetGear({ crew, pump }: Pick<Stop, 'crew' | 'pump'>): readonly string[] {
  const { meter, cell, tape } = crew.kit;
  return pump === null ? [meter, tape] : [pump, meter, cell, tape];
}
