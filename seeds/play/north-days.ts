import { evening, loseSignal, morning, prepareKit, syncAlone } from './crew-day.ts';
import { takeBlank } from './laboratory.ts';
import { checkMeters } from './meter-checks.ts';
import { correctTwice, correctTypedSheet, typeSheet } from './paper-and-corrections.ts';
import { syncInVain } from './phone.ts';
import { handOver } from './relief.ts';
import { swapMeter } from './special-purges.ts';
import { usualVisit } from './visit.ts';
import { PLANS } from './visit-plans.ts';
import type { Day, World } from './world.ts';

/** One clean well, one written on paper, and one that the relief crew takes over. */
export async function northDayOne(world: World, day: Day): Promise<void> {
  const crew = world.crews['North crew'];
  const [phone] = crew.phones;
  await prepareKit(world, day, crew, '06:40');
  await morning(world, day, crew, '07:05');
  await usualVisit(world, day, crew, { ...PLANS.mw1, at: '08:10' });
  world.tell(crew.name, 'MW-1 sampled');
  await takeBlank({ world, phone }, 'OCT-EB1', crew.kit.pump, phone.clock.wall());
  await world.agenda.until(day.ms('12:30'));
  await checkMeters(world, crew, 'mid');
  phone.line.expect('push', 'answer-lost');
  phone.line.signal = true;
  const report = await syncInVain(phone);
  world.tell(crew.name, `the line dropped while syncing; ${report.unsent.count} records count as unsent, for now`);
  await syncAlone(world, crew, phone, 'sent again, the server knew them all');
  await handOver(world, day, crew);
  await world.agenda.until(day.ms('17:35'));
  await typeSheet(world, day, crew);
  await world.agenda.until(day.ms('18:04'));
  phone.line.signal = true;
  phone.line.expect('push', 'cut');
  const cut = await syncInVain(phone);
  world.tell(crew.name, `a push was cut half way; ${cut.unsent.count} records wait`);
  await evening(world, day, crew, '18:10');
}

/** Corrections in the morning, a clean well, and a meter that fails in the middle of a purge. */
export async function northDayTwo(world: World, day: Day): Promise<void> {
  const crew = world.crews['North crew'];
  await morning(world, day, crew, '07:00', ['Meter 4']);
  await correctTypedSheet(world, day, crew);
  await correctTwice(world, day, crew);
  loseSignal(crew);
  await usualVisit(world, day, crew, { ...PLANS.mw3, at: '08:20' });
  world.tell(crew.name, 'MW-3 sampled');
  await swapMeter(world, day, crew, '10:40');
  await world.agenda.until(day.ms('13:05'));
  const [phone] = crew.phones;
  phone.line.signal = true;
  phone.line.expect('rows', 'answer-lost');
  await syncInVain(phone);
  await syncAlone(world, crew, phone, 'a page of news was lost on the way, and came the second time');
  await evening(world, day, crew, '17:40');
}
