import { syncPhone } from './phone.ts';
import type { Stop } from './stop.ts';
import { finishVisit, readLog, startVisit } from './visit.ts';
import { PLANS } from './visit-plans.ts';
import type { Crew, Day, World } from './world.ts';

const NOTICED_AFTER = 3;

async function stopFlagOn(stop: Stop): Promise<string> {
  const flags = await stop.phone.client.all('flag');
  const found = flags.find(({ record }) => record.fields.visit === stop.visit && record.fields.severity === 'stop');
  const { rule, addressee, standing, sentence } = found?.record.fields ?? {};
  if (rule === 'sounding-fits-another-well' && addressee === 'now' && standing === 'raised') return String(sentence);
  throw new Error('61.6 ft sounded in the shallow well of a nest did not come back as a stop at the well');
}

/**
 * The crew stands at the deep well of the nest, works it as such, and has tapped the shallow one on the phone. On the
 * rise there is a moment of signal; the sounding tells, and the whole visit goes to the right well for one reason.
 */
export async function takeWrongWell(world: World, day: Day, crew: Crew, at: string): Promise<void> {
  const plan = { ...PLANS.mw4Deep, well: 'MW-4S', at } as const;
  const purging = await startVisit(world, day, crew, plan);
  await readLog(purging, 1, NOTICED_AFTER);
  const { stop } = purging;
  const { phone } = stop;
  phone.line.signal = true;
  await syncPhone(phone);
  world.tell(crew.name, `the phone says STOP: ${await stopFlagOn(stop)}`);
  const well = world.id('well', 'MW-4D');
  await phone.client.rehome(
    'visit',
    stop.visit,
    { well },
    'The deep well was worked; the shallow one was tapped by mistake',
  );
  await phone.client.amend('well-claim', stop.claim, { well });
  await syncPhone(phone);
  phone.line.signal = false;
  world.tell(crew.name, 'the visit and all under it moved to MW-4D');
  const right = { ...purging, stop: { ...stop, well: 'MW-4D' } as const };
  await readLog(right, NOTICED_AFTER + 1, plan.shape.readings);
  await finishVisit(right, { ...plan, well: 'MW-4D' });
}
