import { evening, morning, prepareKit, syncAlone, syncCrew } from './crew-day.ts';
import { checkMeters } from './meter-checks.ts';
import { syncInVain, syncPhone } from './phone.ts';
import { purgeDry, sampleFlowing } from './special-purges.ts';
import { MINUTE_MS } from './steps.ts';
import { observedAt, timeOf } from './stop.ts';
import { typeVisit } from './typed-log.ts';
import { readLog, startVisit, usualVisit } from './visit.ts';
import { PLANS } from './visit-plans.ts';
import type { Crew, Day, World } from './world.ts';

/** With a phone whose clock is hours ahead: a flowing well, one that purges dry, and one typed by the other person. */
export async function westDayOne(world: World, day: Day): Promise<void> {
  const crew = world.crews['West crew'];
  await prepareKit(world, day, crew, '06:50');
  await morning(world, day, crew, '07:15', ['Compressor 1']);
  await sampleFlowing(world, day, crew, '08:20');
  await purgeDry(world, day, crew, '10:20');
  await typeVisit(world, day, crew, '13:10');
  await evening(world, day, crew, '17:50');
}

/** Somebody has told the crew: the clock is set, and the phone started anew. */
function setClock(world: World, crew: Crew): void {
  const [{ clock }] = crew.phones;
  clock.aheadMs = 0;
  clock.restart();
  world.tell(crew.name, 'the clock of its phone is set right');
}

/** West takes MW-9 without a signal, with another pump, and finds South at the well when it gets there. */
async function claimInVain(world: World, day: Day, crew: Crew): Promise<void> {
  const [phone] = crew.phones;
  const here = { world, phone, paper: false, reader: crew.people[1] };
  await world.agenda.until(day.ms('08:25'));
  const claim = await phone.client.record('well-claim', {
    event: world.event,
    well: world.id('well', 'MW-9'),
    crew: crew.id,
    pump: world.id('unit', crew.kit.pump),
    from: timeOf(here, world.clock.nowMs),
    observed: await observedAt(here, world.clock.nowMs),
  });
  await world.agenda.until(day.ms('08:52'));
  await phone.client.amend('well-claim', claim.id, { until: phone.clock.wall() });
  world.tell(crew.name, 'found the South crew at MW-9, and drove on');
}

const READ_BEFORE_GATE = 5;
/** Sand comes in bursts, so that no three readings agree. */
const BURSTS = {
  6: '48.0',
  7: '35.1',
  8: '52.6',
  9: '33.9',
  10: '44.2',
  11: '34.8',
  12: '41.3',
  13: '33.2',
  14: '39.5',
};
const PLAN = {
  ...PLANS.mw12,
  at: '15:30',
  otherwise: Object.fromEntries(Object.entries(BURSTS).map(([number, turbidityNtu]) => [number, { turbidityNtu }])),
} as const;

/** The last well of the round does not come to rest. Half of what was recorded there gets through before the line is gone. */
async function purgeIntoTheEvening(world: World, day: Day, crew: Crew): Promise<void> {
  const [phone] = crew.phones;
  const purging = await startVisit(world, day, crew, PLAN);
  await readLog(purging, 1, READ_BEFORE_GATE);
  await syncAlone(world, crew, phone, 'MW-12 under way');
  await readLog(purging, READ_BEFORE_GATE + 1, PLAN.shape.readings);
  phone.line.signal = true;
  phone.line.expect('push', 'lost');
  await syncInVain(phone);
  await world.agenda.until(world.clock.nowMs + MINUTE_MS);
  phone.line.expect('push', 'pass');
  phone.line.expect('push', 'lost');
  const { unsent } = await syncInVain(phone);
  phone.line.signal = false;
  world.tell(crew.name, `MW-12 is still being purged; half got through, ${unsent.count} records wait on the phone`);
}

/** A claim in vain, a clean well, hours lost with the compressor, and a purge that goes on. */
export async function westDayTwo(world: World, day: Day): Promise<void> {
  const crew = world.crews['West crew'];
  setClock(world, crew);
  await morning(world, day, crew, '07:25', ['Compressor 1']);
  await claimInVain(world, day, crew);
  await usualVisit(world, day, crew, { ...PLANS.mw8, at: '09:40' });
  world.tell(crew.name, 'MW-8 sampled');
  await world.agenda.until(day.ms('12:10'));
  await checkMeters(world, crew, 'mid');
  await syncCrew(world, crew, 'noon, compressor at the workshop; ');
  for (const one of crew.phones) one.line.signal = false;
  await purgeIntoTheEvening(world, day, crew);
  const [, other] = crew.phones;
  other.line.signal = true;
  await syncPhone(other);
}
