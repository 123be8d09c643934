import { kit } from '../firm/equipment.ts';
import { giveBack, signOut, syncAlone } from './crew-day.ts';
import { cleanUnits } from './gear.ts';
import type { Phone } from './phone.ts';
import { happen, MINUTE_MS } from './steps.ts';
import { observedAt, type Stop } from './stop.ts';
import { finishVisit, logOf, type Purging, readLog, startVisit } from './visit.ts';
import { PLANS } from './visit-plans.ts';
import type { Crew, Day, World } from './world.ts';

const PLAN = { ...PLANS.mw13, at: '13:20' } as const;
/** The first crew reads up to here, the relief from the next reading on. */
const READ_BEFORE = 6;
/** The first crew's pump, meter, cell and controller stay at the well. */
const STAYS = kit(1);
const STAYING = [STAYS.pump, STAYS.meter, STAYS.cell, STAYS.controller];

/** North is called away in the middle of MW-13. It has a signal there, being near the gate. */
export async function handOver(world: World, day: Day, crew: Crew): Promise<void> {
  const [phone] = crew.phones;
  const purging = await startVisit(world, day, crew, PLAN);
  await readLog(purging, 1, READ_BEFORE - 1);
  await syncAlone(world, crew, phone, 'MW-13 under way, a signal at the gate');
  await readLog(purging, READ_BEFORE, READ_BEFORE);
  const { stop } = purging;
  const goesMs = purging.beganMs + (READ_BEFORE * 5 + 3) * MINUTE_MS;
  await happen(stop, goesMs, 'handed-over', { toCrew: world.crews['South crew'].id });
  await phone.client.amend('well-claim', stop.claim, { until: phone.clock.wall() });
  await giveBack(crew, STAYING);
  await cleanUnits(stop, world.clock.nowMs, [crew.kit.tape]);
  await syncAlone(world, crew, phone, 'MW-13 handed over to the South crew');
}

/** The purge as the relief finds it in the feed of the event. */
async function underWay(world: World, phone: Phone) {
  const well = world.id('well', PLAN.well);
  const visits = await phone.client.all('visit');
  const visit = visits.find(({ record }) => record.fields.well === well && record.fields.left === undefined)?.record;
  const purge = (await phone.client.all('purge')).find(({ record }) => record.fields.visit === visit?.id)?.record;
  const claim = (await phone.client.all('well-claim')).find(({ record }) => record.fields.well === well)?.record;
  if (!visit || !purge || !claim)
    throw new Error(`${phone.label} does not know yet of the purge that it is to relieve`);
  return { visit: visit.id, purge: purge.id, claim: claim.id, began: String(purge.fields.began) };
}

async function arriveAsRelief(world: World, day: Day, crew: Crew): Promise<{ stop: Stop; beganMs: number }> {
  const [phone] = crew.phones;
  const found = await underWay(world, phone);
  const here = { world, phone, paper: false, reader: crew.people[1] };
  const claim = await phone.client.record('well-claim', {
    event: world.event,
    well: world.id('well', PLAN.well),
    crew: crew.id,
    pump: world.id('unit', STAYS.pump),
    handedOverFrom: found.claim,
    from: phone.clock.wall(),
    observed: await observedAt(here, world.clock.nowMs),
  });
  const { visit, purge, began } = found;
  const taken = { well: PLAN.well, pump: STAYS.pump, visit, purge, claim: claim.id, readings: [] };
  return { stop: { ...here, day, crew, ...taken }, beganMs: Date.parse(began) };
}

/** South takes over with the pump and the meter in place: one purge in parts, and no conflict. */
export async function takeOver(world: World, day: Day, crew: Crew): Promise<void> {
  await world.agenda.until(day.ms('14:16'));
  await syncAlone(world, crew, crew.phones[0], 'at the gate, told of MW-13');
  await world.agenda.until(day.ms('14:20'));
  const { stop, beganMs } = await arriveAsRelief(world, day, crew);
  await signOut(world, crew, STAYING);
  const purging: Purging = { stop, beganMs, rows: logOf(PLAN) };
  await readLog(purging, READ_BEFORE + 1, PLAN.shape.readings, STAYS.meter);
  const gear = [STAYS.pump, STAYS.meter, STAYS.cell, crew.kit.tape];
  await finishVisit(purging, { ...PLAN, gear });
  world.tell(crew.name, 'MW-13 sampled, begun by the North crew');
}
