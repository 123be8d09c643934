import path from 'node:path';
import { issueToken } from '../../src/writes/set-up-firm.ts';
import { type Kit, kit } from '../firm/equipment.ts';
import { CREW_NAMES, type CrewName, type DeviceData, PHONES } from '../firm/people.ts';
import { ZONE } from '../firm/site.ts';
import type { EnteredFirm, Host } from './enter-firm.ts';
import { openPhone, type Phone, type PhoneOptions } from './phone.ts';
import { openTypedPhone } from './typed-phone.ts';
import type { Crews } from './world.ts';

/** In the folder of the demo: what the West crew keeps. */
export const CREW_FOLDER = 'west-crew';

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

async function optionsOf(host: Host, entered: EnteredFirm, { label }: DeviceData, seed: number): Promise<PhoneOptions> {
  const { firm, id } = entered;
  const wish = { label, role: 'crew', device: id('device', label) } as const;
  const { secret: token } = await issueToken(host.ctx.pool, firm, wish, host.clock.now());
  return { label, token, base: host.base, world: host.clock, zone: ZONE, seed, aheadMs: AHEAD_MS[label] ?? 0 };
}

type Open<P extends Phone> = (options: PhoneOptions) => Promise<P>;

async function openCrew<P extends Phone>(host: Host, entered: EnteredFirm, name: CrewName, openFirst: Open<P>) {
  const [one, two] = PHONES.filter(({ crew }) => crew === name);
  if (!one || !two) throw new Error(`the ${name} has not two phones`);
  const seed = 100 + 10 * CREW_NAMES.indexOf(name);
  const first = await openFirst(await optionsOf(host, entered, one, seed));
  const second = await openPhone(await optionsOf(host, entered, two, seed + 1));
  await first.client.setPerson(entered.id('member', one.person));
  await second.client.setPerson(entered.id('member', two.person));
  return {
    name,
    id: entered.id('crew', name),
    people: [one.person, two.person] as const,
    phones: [first, second] as const,
    kit: KITS[name],
    signedOut: new Map<string, string>(),
  };
}

/** @param show gets each line that the screen of the West crew shows */
export async function openCrews(host: Host, entered: EnteredFirm, show: (line: string) => void): Promise<Crews> {
  const folder = path.join(host.folder, CREW_FOLDER);
  return {
    'North crew': await openCrew(host, entered, 'North crew', openPhone),
    'South crew': await openCrew(host, entered, 'South crew', openPhone),
    'West crew': await openCrew(host, entered, 'West crew', (options) => openTypedPhone({ ...options, folder, show })),
  };
}
