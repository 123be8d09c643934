import { evening, morning, prepareKit, syncAlone } from './crew-day.ts';
import { checkMeters } from './meter-checks.ts';
import { syncInVain } from './phone.ts';
import { takeOver } from './relief.ts';
import { callTooEarly, findNoAccess } from './special-purges.ts';
import { usualVisit } from './visit.ts';
import { PLANS } from './visit-plans.ts';
import type { Day, World } from './world.ts';
import { takeWrongWell } from './wrong-well.ts';

/** The nest, the deep well first and under the wrong name, and the relief of another crew's purge. */
export async function southDayOne(world: World, day: Day): Promise<void> {
  const crew = world.crews['South crew'];
  const [phone] = crew.phones;
  await prepareKit(world, day, crew, '06:55');
  await morning(world, day, crew, '07:20');
  await takeWrongWell(world, day, crew, '08:30');
  await usualVisit(world, day, crew, { ...PLANS.mw4Shallow, at: '10:50' });
  world.tell(crew.name, 'MW-4D and MW-4S sampled');
  await world.agenda.until(day.ms('12:50'));
  await checkMeters(world, crew, 'mid');
  phone.line.signal = true;
  phone.line.expect('push', 'lost');
  const report = await syncInVain(phone);
  world.tell(crew.name, `no luck with the line; ${report.unsent.count} records wait`);
  await syncAlone(world, crew, phone, 'second try');
  await takeOver(world, day, crew);
  await evening(world, day, crew, '18:00');
}

/** A well that another crew claims too, one that is called early, and one that cannot be reached. */
export async function southDayTwo(world: World, day: Day): Promise<void> {
  const crew = world.crews['South crew'];
  await morning(world, day, crew, '07:15');
  await usualVisit(world, day, crew, { ...PLANS.mw9, at: '08:40', cleaningBrokenOff: true });
  world.tell(crew.name, 'MW-9 sampled; called on to MW-5 before the last flush of its pump');
  await callTooEarly(world, day, crew, '11:00');
  await findNoAccess(world, day, crew, '14:00');
  await evening(world, day, crew, '17:30');
}
