import { expect, it } from 'vitest';
import { IDS } from './base-firm.ts';
import { CALM } from './features.ts';
import { excuseLost, setBack } from './play.ts';
import { World } from './world.ts';

it('excuses what a lost phone alone had only where it was not told, or where the data was set back to before that', async () => {
  const world = await World.open(1, { ...CALM, phones: 2, steps: 0, setBack: 'silent' });
  const [, phone] = world.phones;
  if (!phone) throw new Error('a phone is needed');
  const sync = async () => {
    phone.sync();
    await world.timeline.empty();
  };
  const capture = async (well: string | undefined) => {
    const fields = { event: IDS.spring, well, crew: IDS.north, method: 'low-flow', arrived: phone.wall() };
    const { id } = await phone.client.record('visit', fields);
    const entry = [...phone.contents.entries.values()].find((one) => one.id === id);
    if (!entry) throw new Error('what was captured is in the outbox');
    world.history.add(phone.at, entry, { seen: null, sawVoid: false, followed: new Set() });
  };
  await sync();
  await capture(IDS.wells[0]);
  await sync();
  world.noteBackup();
  await capture(IDS.wells[1]);
  await sync();
  await capture(IDS.wells[2]);
  phone.die();
  for (const one of world.history.all()) one.uncopied = true;
  const excused = () => world.history.all().map(({ excuse }) => excuse !== null);
  excuseLost(world);
  expect(excused()).toEqual([false, false, true]);
  setBack(world);
  expect(excused()).toEqual([false, true, true]);
});
