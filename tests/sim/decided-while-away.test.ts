import { expect, it } from 'vitest';
import { setBack } from './play.ts';
import { threePhones } from './three-phones.ts';

it('[M7] what is said again in values replaces nothing that a person decided over it meanwhile', async () => {
  const { office, one, other, visit, world, sync } = await threePhones();
  await one.client.amend('visit', visit, { outcomeReason: 'level 14.22' });
  await sync(one, office, other);
  world.noteBackup();
  // the office is A, person one is G2, the other one the partner
  await office.client.amend('visit', visit, { outcomeReason: 'level 14.20' });
  await sync(office, one);
  await one.client.amend('visit', visit, { outcomeReason: 'level 14.90' });
  const copy = await one.client.exportOutbox();
  setBack(world, 'announced');
  await other.client.importOutbox(copy);
  await sync(other, other, office, office, other);
  const shown = async () => (await other.client.one(visit))?.record.fields.outcomeReason;
  const values = async () => {
    const open = await office.client.conflicts();
    return open.flatMap(({ choices }) => choices.map(({ value }) => value)).sort();
  };
  expect(await values()).toEqual(['level 14.20', 'level 14.90']);
  const [asked] = await office.client.conflicts();
  await office.client.resolve(asked?.id ?? '', 'level 14.20');
  await sync(office, other);
  expect([await shown(), await values()]).toEqual(['level 14.20', []]);
  // its own line says that it saw the value, but not that a person chose it over this very line
  await sync(one, one, office, other);
  expect(await values()).toEqual(['level 14.20', 'level 14.90']);
  const [again] = await office.client.conflicts();
  await office.client.resolve(again?.id ?? '', 'level 14.20');
  await sync(office, one, one, other);
  expect([await shown(), await values(), await one.client.conflicts()]).toEqual(['level 14.20', [], []]);
});
