import { expect, it } from 'vitest';
import { IDS } from './base-firm.ts';
import { checkReplicas } from './check-replicas.ts';
import { heal, isQuiet } from './heal.ts';
import { threePhones } from './three-phones.ts';
import { Findings } from './violation.ts';

it('is not at its end while a phone hands in what it carries, and pulls nothing of that itself', async () => {
  const { office, one, other, visit, world, sync } = await threePhones();
  const quiet = () => [office, other].map((phone) => isQuiet(world, phone));
  const found = () => {
    const findings = new Findings();
    checkReplicas(world.server, world.living, world.watch, findings);
    return findings.list.map(({ property }) => property);
  };
  await sync(office);
  await one.client.amend('visit', visit, { outcomeReason: 'dry' });
  await other.client.importOutbox(await one.client.exportOutbox());
  one.drowned = true;
  one.die();
  // the partner follows the event no more, so what it hands in there does not come back to it
  await office.client.voidRecord('assignment', IDS.assignments[0], 'the crew is needed elsewhere');
  await sync(office, office, other);
  expect(world.reports.get(other.at)).toMatchObject({ pushed: 0, pulled: 0, carried: { pushed: 2, unanswered: 0 } });
  expect(quiet()).toEqual([true, false]);
  expect(found()).toContain('convergence');
  await heal(world);
  expect(quiet()).toEqual([true, true]);
  expect(found()).toEqual([]);
  expect((await office.client.one(visit))?.record.fields.outcomeReason).toBe('dry');
});
