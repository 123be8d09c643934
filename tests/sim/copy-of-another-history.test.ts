import { expect, it } from 'vitest';
import { IDS } from './base-firm.ts';
import { PHONE_BUGS } from './bugs/phone-bugs.ts';
import { setBack } from './play.ts';
import { threePhones } from './three-phones.ts';
import type { Seams } from './world.ts';

interface Told {
  /** What stands at the visit, and the other values that a person is asked about. */
  readonly values: readonly unknown[];
  readonly renumbered: number;
}

/**
 * Person one sees a value of the office as revision 2, writes another over it and drops the phone into the well; a
 * partner has a copy. The data is set back to before revision 2, and the partner's own value becomes revision 2.
 */
async function handedInAfterASetBack(how: 'announced' | 'silent', seams?: Seams): Promise<Told> {
  const { office, one, other, visit, world, sync } = await threePhones(seams);
  await sync(office);
  world.noteBackup();
  await office.client.amend('visit', visit, { outcomeReason: 'no water' });
  await sync(office, one);
  await one.client.amend('visit', visit, { outcomeReason: 'dry' });
  await other.client.importOutbox(await one.client.exportOutbox());
  for (const lost of [one, office]) {
    lost.drowned = true;
    lost.die();
  }
  setBack(world, how);
  await other.client.amend('visit', visit, { outcomeReason: 'pump stuck' });
  await sync(other);
  const renumbered = world.reports.get(other.at)?.carried.renumbered ?? 0;
  await sync(other);
  const shown = (await other.client.one(visit))?.record.fields.outcomeReason;
  const asked = (await other.client.conflicts()).flatMap(({ record }) => record?.fields.kept as { value: unknown }[]);
  expect([...other.contents.carried.values()].map(({ outcome }) => outcome !== null)).toEqual([true]);
  return { values: [shown, ...asked.map(({ value }) => value)].sort(), renumbered };
}

function plantedAs(name: string): Seams {
  const bug = PHONE_BUGS.find((one) => one.name === name);
  if (!bug) throw new Error(`no bug is called ${name}`);
  return bug.plant();
}

const BOTH = ['dry', 'pump stuck'];

it.each(['announced', 'silent'] as const)(
  '[B9] what a partner carries of a lost phone replaces nothing that its author never saw: set back, %s',
  async (how) => {
    expect(await handedInAfterASetBack(how)).toEqual({ values: BOTH, renumbered: 1 });
  },
);

it('[B9] a copy that does not say what its lines saw replaces nothing either, once an epoch began', async () => {
  const seams = plantedAs('a carried copy goes without its history');
  expect(await handedInAfterASetBack('announced', seams)).toEqual({ values: BOTH, renumbered: 0 });
});

it('finds a value lost where the one or the other is left out', async () => {
  const silent = plantedAs('a carried copy goes without its history');
  expect((await handedInAfterASetBack('silent', silent)).values).toEqual(['dry']);
  const believed = plantedAs('what a copy cites without a history is believed after a set-back');
  expect((await handedInAfterASetBack('announced', believed)).values).toEqual(['dry']);
});

it('[B9] what cites nothing has one effect, also where a second partner has an earlier copy of it', async () => {
  const { office, one, other, visit, world, sync } = await threePhones();
  await sync(office);
  world.noteBackup();
  await office.client.amend('visit', visit, { outcomeReason: 'no water' });
  await sync(office, one);
  const fields = { event: IDS.spring, well: IDS.wells[1], crew: IDS.north, method: 'low-flow', arrived: one.wall() };
  const { id: second } = await one.client.record('visit', { ...fields, outcomeReason: 'rain' });
  await office.client.importOutbox(await one.client.exportOutbox());
  await one.client.amend('visit', second, { outcomeReason: 'lightning' });
  await one.client.amend('visit', visit, { outcomeReason: 'dry' });
  await other.client.importOutbox(await one.client.exportOutbox());
  one.drowned = true;
  one.die();
  setBack(world, 'silent');
  await sync(other, other);
  const told = async () => (await other.client.one(second))?.record;
  const before = await told();
  expect(before).toMatchObject({ rev: 2, fields: { outcomeReason: 'lightning' } });
  await sync(office, office, other);
  expect(await told()).toEqual(before);
  expect((await other.client.conflicts()).map(({ record }) => record?.fields.subject)).toEqual([visit]);
});
