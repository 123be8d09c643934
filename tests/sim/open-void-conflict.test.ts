import { expect, it } from 'vitest';
import { threePhones } from './three-phones.ts';

/**
 * The smallest case of a world that the simulation found (seed 300020 of the pinned ones). One person voids a visit,
 * another who did not know changes it: an open conflict. When the first one then changes any other field, having
 * seen the conflict, that says nothing about the void: it stays open until somebody decides.
 */
it('[M5] a conflict between a void and an edit stays open when the one who voided changes another field', async () => {
  const { one, other, visit, sync, asked } = await threePhones();
  await one.client.voidRecord('visit', visit, 'recorded twice');
  await other.client.amend('visit', visit, { outcomeReason: 'no water' });
  await sync(one, other, one);
  await one.client.amend('visit', visit, { left: one.wall() });
  await sync(one);
  expect(await asked()).toMatchObject([{ type: 'void' }]);
});
