import type { CrewName } from '../firm/people.ts';
import { DAYS_BEFORE, EVENT_BEFORE, earlierEntries } from '../firm/plan.ts';
import { instantOf, stamp } from './clock.ts';
import type { PurgeShape } from './curves.ts';
import { cleanUnits, wetGear } from './gear.ts';
import { FAILED_BLANK, takeBlank, typeResults } from './laboratory.ts';
import { syncPhone } from './phone.ts';
import { usualVisit, type VisitPlan } from './visit.ts';
import { PLANS } from './visit-plans.ts';
import type { Day, World } from './world.ts';

type WellPlan = Omit<VisitPlan, 'at'>;

/** After the winter the water stood higher, colder and a little thinner. Invented, as all of it. */
const SPRING = { higherFt: 0.38, colderC: 0.6, conductanceShare: 0.97, readings: 8 };

function ofSpring({ water, staticFt, ...shape }: PurgeShape): PurgeShape {
  return {
    ...shape,
    readings: SPRING.readings,
    staticFt: staticFt - SPRING.higherFt,
    water: {
      ...water,
      temperatureC: water.temperatureC - SPRING.colderC,
      specificConductanceUsPerCm: Math.round(water.specificConductanceUsPerCm * SPRING.conductanceShare),
    },
  };
}

const STOPS: readonly (readonly [CrewName, WellPlan, string])[] = [
  ['North crew', PLANS.mw1, '08:10'],
  ['North crew', PLANS.mw3, '10:00'],
  ['North crew', PLANS.mw13, '13:10'],
  ['South crew', PLANS.mw4Shallow, '08:20'],
  ['South crew', PLANS.mw4Deep, '10:10'],
  ['South crew', PLANS.mw9, '13:20'],
  ['West crew', PLANS.mw8, '08:30'],
];

/**
 * The round before, as the office types it from the sheets of the spring: so that the crews have with each well what was
 * done there last, and hang the pump where it hung.
 */
export async function typeEarlierRound(world: World): Promise<number> {
  const { desk, zone, id } = world;
  for (const { kind, id: entry, set } of earlierEntries(id)) await desk.client.record(kind, set, { id: entry });
  const then: World = { ...world, event: id('event', EVENT_BEFORE) };
  const [date] = DAYS_BEFORE;
  const day: Day = { date, ms: (time) => instantOf(date, time, zone) };
  for (const crew of Object.values(then.crews)) {
    const here = { world: then, phone: desk, paper: true, reader: crew.people[1] };
    await cleanUnits(here, day.ms('07:00'), wetGear({ crew, pump: crew.kit.pump }));
  }
  for (const [name, plan, at] of STOPS) {
    const sample = plan.sample.replace('OCT', 'APR');
    const sheet = { ...plan, shape: ofSpring(plan.shape), sample, at, phone: desk, paper: true } as const;
    await usualVisit(then, day, then.crews[name], sheet);
  }
  await takeBlank(
    { world: then, phone: desk },
    FAILED_BLANK,
    then.crews['North crew'].kit.pump,
    stamp(day.ms('12:05'), zone),
  );
  await typeResults(then);
  return (await syncPhone(desk)).pushed;
}
