import { describe, expect, it } from 'vitest';
import { type ThreePhones, threePhones } from './three-phones.ts';
import type { Seams } from './world.ts';

interface Deaf extends ThreePhones {
  /** Person one syncs, and no answer to a push comes; what others wrote is pulled all the same. */
  syncUnheard(): Promise<void>;
  /** The same, but no push of person one comes to the server either. */
  pullOnly(): Promise<void>;
}

/** The answers to the pushes of person one are lost, or the pushes, while it is said so. */
async function deaf(): Promise<Deaf> {
  let lost = 'nothing' as 'nothing' | 'answer' | 'request';
  const line: NonNullable<NonNullable<Seams['phone']>['line']> = (next, phone) => async (url, request) => {
    const isLost = phone.at === 1 && url.includes('/push');
    if (isLost && lost === 'request') throw new Error('the request was lost');
    const answer = await next(url, request);
    if (isLost && lost === 'answer') throw new Error('the answer was lost');
    return answer;
  };
  const phones = await threePhones({ phone: { line } });
  const losing = async (what: 'answer' | 'request') => {
    lost = what;
    await phones.sync(phones.one);
    lost = 'nothing';
  };
  return { ...phones, syncUnheard: () => losing('answer'), pullOnly: () => losing('request') };
}

const REASON = 'recorded twice';

/** The smallest cases of worlds that the simulation found (seed 878 was the first). */
describe('what was pulled while an own mutation had no answer', () => {
  it('[M4] and was then changed, is asked about by nobody', async () => {
    const { one, other, visit, sync, syncUnheard, asked } = await deaf();
    await one.client.amend('visit', visit, { left: one.wall() });
    await other.client.amend('visit', visit, { outcomeReason: 'no water' });
    await sync(other);
    await syncUnheard();
    await one.client.amend('visit', visit, { outcomeReason: 'dry' });
    await sync(one);
    expect(await asked()).toEqual([]);
  });

  it('[M4] but lay under the own value on the screen, is asked about', async () => {
    const { one, other, visit, sync, syncUnheard, asked } = await deaf();
    await one.client.amend('visit', visit, { outcomeReason: 'no water' });
    await syncUnheard();
    await sync(other);
    await other.client.amend('visit', visit, { outcomeReason: 'pump stuck' });
    await sync(other);
    await syncUnheard();
    expect((await one.client.one(visit))?.record.fields.outcomeReason).toBe('no water');
    await one.client.amend('visit', visit, { outcomeReason: 'dry' });
    await sync(one);
    expect(await asked()).toMatchObject([{ field: 'outcomeReason', kept: [{ value: 'pump stuck' }] }]);
  });

  it('[W7] counts field by field where one change sets a field that was seen and one that was covered', async () => {
    const { one, other, visit, sync, syncUnheard, asked } = await deaf();
    await one.client.amend('visit', visit, { outcomeReason: 'no water' });
    await syncUnheard();
    await sync(other);
    await other.client.amend('visit', visit, { outcomeReason: 'pump stuck', left: other.wall() });
    await sync(other);
    await syncUnheard();
    await one.client.amend('visit', visit, { outcomeReason: 'dry', left: one.wall() });
    await sync(one);
    expect(await asked()).toMatchObject([{ field: 'outcomeReason' }]);
  });

  it('[M5] and was a void, is not undone by the next own edit', async () => {
    const { one, other, visit, sync, pullOnly, asked } = await deaf();
    await one.client.amend('visit', visit, { left: one.wall() });
    await other.client.voidRecord('visit', visit, REASON);
    await sync(other);
    await pullOnly();
    expect((await one.client.one(visit))?.record.voided).not.toBeNull();
    await one.client.amend('visit', visit, { outcomeReason: 'dry' });
    await sync(one);
    expect(await asked()).toMatchObject([{ type: 'void', standing: 'open' }]);
  });

  it('[M5] an own void that had no answer is known to the next own edit', async () => {
    const { one, other, visit, sync, syncUnheard, asked } = await deaf();
    await one.client.voidRecord('visit', visit, REASON);
    await other.client.amend('visit', visit, { outcomeReason: 'no water' });
    await syncUnheard();
    await one.client.amend('visit', visit, { left: one.wall() });
    await sync(one);
    expect(await asked()).toEqual([]);
    await sync(other);
    expect(await asked()).toMatchObject([{ type: 'void', standing: 'open' }]);
  });
});
