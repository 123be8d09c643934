import { expect, it } from 'vitest';
import { threePhones } from './three-phones.ts';

it('asks no more of a conflict that was answered, pulled, and has gone since: one who saw both values gave another', async () => {
  const { one, other, visit, sync } = await threePhones();
  await one.client.amend('visit', visit, { outcomeReason: 'dry' });
  await other.client.amend('visit', visit, { outcomeReason: 'no water' });
  await sync(one, other);
  const [asked, ...more] = await other.client.conflicts();
  expect([asked?.own.length, more]).toEqual([1, []]);
  await sync(one);
  await one.client.amend('visit', visit, { outcomeReason: 'dry to the bottom' });
  await sync(one, other);
  // what the answer named is still kept here, and its row is not
  expect([...other.contents.entries.values()].flatMap(({ outcome }) => outcome?.conflicts ?? [])).toEqual([asked?.id]);
  expect([await other.client.conflicts(), await one.client.conflicts()]).toEqual([[], []]);
  expect((await other.client.one(visit))?.record.fields.outcomeReason).toBe('dry to the bottom');
});
