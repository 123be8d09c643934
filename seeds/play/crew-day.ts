import { cleanUnits, wetGear } from './gear.ts';
import { checkKit } from './kit-check.ts';
import { checkMeters } from './meter-checks.ts';
import { type Phone, syncPhone } from './phone.ts';
import type { Crew, Day, World } from './world.ts';

/** Both phones of a crew meet the server, one after the other. */
export async function syncCrew(world: World, crew: Crew, when = ''): Promise<void> {
  let pushed = 0;
  let pulled = 0;
  for (const phone of crew.phones) {
    phone.line.signal = true;
    const report = await syncPhone(phone);
    pushed += report.pushed;
    pulled += report.pulled;
  }
  world.tell(crew.name, `${when}synced: ${pushed} sent, ${pulled} received`);
}

export function loseSignal(crew: Crew): void {
  for (const phone of crew.phones) phone.line.signal = false;
}

/** A moment of signal for one phone. */
export async function syncAlone(world: World, crew: Crew, phone: Phone, when: string): Promise<void> {
  phone.line.signal = true;
  const report = await syncPhone(phone);
  phone.line.signal = false;
  world.tell(crew.name, `${when}: ${report.pushed} sent, ${report.pulled} received`);
}

/** The crew takes units, from now on. */
export async function signOut(world: World, crew: Crew, labels: readonly string[]): Promise<void> {
  const [phone] = crew.phones;
  const [person] = crew.people;
  for (const label of labels) {
    const observed = await phone.client.observed({ readBy: world.id('member', person) });
    const { id } = await phone.client.record('sign-out', {
      unit: world.id('unit', label),
      crew: world.id('crew', crew.name),
      event: world.event,
      from: phone.clock.wall(),
      observed,
    });
    crew.signedOut.set(label, id);
  }
}

/** The units go back to the shelf, or to another crew. */
export async function giveBack(crew: Crew, labels: readonly string[] = [...crew.signedOut.keys()]): Promise<void> {
  const [phone] = crew.phones;
  for (const label of labels) {
    const id = crew.signedOut.get(label);
    if (id === undefined) continue;
    await phone.client.amend('sign-out', id, { until: phone.clock.wall() });
    crew.signedOut.delete(label);
  }
}

/** In the yard, before the first well: nobody knows how the kit was put away in spring, so all of it is cleaned. */
export async function prepareKit(world: World, day: Day, crew: Crew, at: string): Promise<void> {
  const [phone] = crew.phones;
  const here = { world, phone, paper: false, reader: crew.people[1] };
  await cleanUnits(here, day.ms(at), wetGear({ crew, pump: crew.kit.pump }));
  await checkKit(world, crew);
}

/** The morning at the gate: the kit signed out, the meters checked, the news, and off to where there is no signal. */
export async function morning(world: World, day: Day, crew: Crew, at: string, more: readonly string[] = []) {
  await world.agenda.until(day.ms(at));
  const { pump, meter, cell, tape, controller } = crew.kit;
  await signOut(world, crew, [pump, meter, cell, tape, controller, ...more]);
  await checkMeters(world, crew, 'start');
  await syncCrew(world, crew, 'morning, ');
  loseSignal(crew);
}

export async function evening(world: World, day: Day, crew: Crew, at: string): Promise<void> {
  await world.agenda.until(day.ms(at));
  await checkMeters(world, crew, 'end');
  await giveBack(crew);
  await syncCrew(world, crew, 'evening, ');
}
