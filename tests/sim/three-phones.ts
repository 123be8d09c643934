import { IDS } from './base-firm.ts';
import { CALM } from './features.ts';
import type { SimPhone } from './sim-phone.ts';
import { type Seams, World } from './world.ts';

/** A calm world of three phones in which nothing happens by itself: the office, and two people who know of one visit. */
export interface ThreePhones {
  readonly office: SimPhone;
  readonly one: SimPhone;
  readonly other: SimPhone;
  readonly visit: string;
  readonly world: World;
  /** Each pushes and pulls to the end before the next one does. */
  sync(...phones: readonly SimPhone[]): Promise<void>;
  /** What people are asked, as the office is told it. */
  asked(): Promise<unknown[]>;
}

export async function threePhones(seams?: Seams): Promise<ThreePhones> {
  const world = await World.open(1, { ...CALM, phones: 3, steps: 0 }, seams);
  const [office, one, other] = world.phones;
  if (!office || !one || !other) throw new Error('three phones are needed');
  const sync = async (...phones: readonly SimPhone[]) => {
    for (const phone of phones) {
      phone.sync();
      await world.timeline.empty();
    }
  };
  const fields = { event: IDS.spring, well: IDS.wells[0], crew: IDS.north, method: 'low-flow', arrived: one.wall() };
  const { id: visit } = await one.client.record('visit', fields);
  await sync(one, other);
  const asked = async () => {
    await sync(office);
    return (await office.client.conflicts()).map(({ record }) => record?.fields);
  };
  return { office, one, other, visit, world, sync, asked };
}
