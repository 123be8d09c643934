import { expect, it } from 'vitest';
import { IDS } from './base-firm.ts';
import { CALM } from './features.ts';
import type { SimPhone } from './sim-phone.ts';
import { World } from './world.ts';

/**
 * The smallest case of a world that the simulation found (seed 300020 of the pinned ones). One person voids a visit,
 * another who did not know changes it: an open conflict. When the first one then changes any other field, having
 * seen the conflict, that says nothing about the void: it stays open until somebody decides.
 */
it('[M5] a conflict between a void and an edit stays open when the one who voided changes another field', async () => {
  const world = await World.open(1, { ...CALM, phones: 3, steps: 0 });
  const [office, one, other] = world.phones;
  if (!office || !one || !other) throw new Error('three phones are needed');
  const sync = async (...phones: readonly SimPhone[]) => {
    for (const phone of phones) {
      phone.sync();
      await world.timeline.empty();
    }
  };
  const fields = { event: IDS.spring, well: IDS.wells[0], crew: IDS.north, method: 'low-flow', arrived: one.wall() };
  const { id } = await one.client.record('visit', fields);
  await sync(one, other);
  await one.client.voidRecord('visit', id, 'recorded twice');
  await other.client.amend('visit', id, { outcomeReason: 'no water' });
  await sync(one, other, one);
  await one.client.amend('visit', id, { left: one.wall() });
  await sync(one, office);
  expect((await office.client.conflicts()).map(({ record }) => record?.fields.type)).toEqual(['void']);
});
