import { issueToken } from '../../src/writes/set-up-firm.ts';
import { type Kit, kit } from '../firm/equipment.ts';
import { CREW_NAMES, type CrewName, type DeviceData, PHONES } from '../firm/people.ts';
import { ZONE } from '../firm/site.ts';
import type { EnteredFirm, Host } from './enter-firm.ts';
import { openPhone, type Phone } from './phone.ts';
import type { Crew } from './world.ts';

/** The phone of the West crew shows a time that is hours ahead. Other phones are off by seconds. */
const AHEAD_MS: Readonly<Record<string, number>> = {
  'Phone 1': 4_000,
  'Phone 2': -2_000,
  'Phone 3': 7_000,
  'Phone 4': 1_000,
  'Phone 5': (3 * 60 + 7.5) * 60_000,
  'Phone 6': -5_000,
};

const KITS: Readonly<Record<CrewName, Kit>> = { 'North crew': kit(1), 'South crew': kit(2), 'West crew': kit(3) };

async function openCrewPhone(host: Host, entered: EnteredFirm, data: DeviceData, seed: number): Promise<Phone> {
  const { label, person } = data;
  const { firm, id } = entered;
  const wish = { label, role: 'crew', device: id('device', label) } as const;
  const { secret } = await issueToken(host.ctx.pool, firm, wish, host.clock.now());
  const aheadMs = AHEAD_MS[label] ?? 0;
  const phone = await openPhone({
    label,
    token: secret,
    base: host.base,
    world: host.clock,
    zone: ZONE,
    seed,
    aheadMs,
  });
  await phone.client.setPerson(id('member', person));
  return phone;
}

async function openCrew(host: Host, entered: EnteredFirm, name: CrewName): Promise<Crew> {
  const [one, two] = PHONES.filter(({ crew }) => crew === name);
  if (!one || !two) throw new Error(`the ${name} has not two phones`);
  const seed = 100 + 10 * CREW_NAMES.indexOf(name);
  const first = await openCrewPhone(host, entered, one, seed);
  const second = await openCrewPhone(host, entered, two, seed + 1);
  return {
    name,
    id: entered.id('crew', name),
    people: [one.person, two.person],
    phones: [first, second],
    kit: KITS[name],
    signedOut: new Map(),
  };
}

export async function openCrews(host: Host, entered: EnteredFirm): Promise<Readonly<Record<CrewName, Crew>>> {
  return {
    'North crew': await openCrew(host, entered, 'North crew'),
    'South crew': await openCrew(host, entered, 'South crew'),
    'West crew': await openCrew(host, entered, 'West crew'),
  };
}
