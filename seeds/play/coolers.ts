import type { RecordState } from '../../src/protocol/record.ts';
import { COORDINATOR, FIRM } from '../firm/people.ts';
import { syncPhone } from './phone.ts';
import type { Day, World } from './world.ts';

export const COOLER = 'Cooler 1';
const SEAL = '004417';
const COURIER = 'Day courier';
const TRACKING = 'DC-88213-4';

/** What the laboratory opened in the morning, as it says it through its own door. */
export type Receive = (receipt: Readonly<Record<string, unknown>>) => Promise<number>;

async function all(world: World, kind: string): Promise<readonly RecordState[]> {
  return (await world.desk.client.all(kind)).map(({ record }) => record).filter(({ voided }) => voided === null);
}

/** A blank that was planned goes along: its record, and its container as filled. */
async function addBlank(world: World, type: 'trip' | 'temperature'): Promise<void> {
  const { client, clock } = world.desk;
  const planned = (await all(world, 'planned-sample')).find(({ fields }) => fields.type === `${type}-blank`);
  if (!planned) throw new Error(`no ${type} blank was planned`);
  const { number, suites } = planned.fields;
  const set = { event: world.event, type, number, suites, planned: planned.id, collected: clock.wall() };
  const { id: blank } = await client.record('blank', set);
  const its = (await all(world, 'container')).filter(({ fields }) => fields.planned === planned.id);
  for (const { id } of its) {
    await client.amend('container', id, { blank, standing: 'filled' });
    const observed = await client.observed({ readBy: world.id('member', COORDINATOR) });
    await client.record('fill', { container: id, preserved: true, bubble: false, collected: clock.wall(), observed });
  }
}

/** In the evening of the first day the office packs what the crews brought, and a courier takes it. */
export async function packCooler(world: World, day: Day): Promise<void> {
  await world.agenda.until(day.ms('18:25'));
  const { desk } = world;
  const { client, clock } = desk;
  await syncPhone(desk);
  const [laboratory] = await all(world, 'laboratory');
  const { id: cooler } = await client.record('cooler', {
    event: world.event,
    number: COOLER,
    ...(laboratory ? { laboratory: laboratory.id } : {}),
    ice: 'Wet ice in bags, 6 kg',
  });
  await addBlank(world, 'trip');
  await addBlank(world, 'temperature');
  const filled = (await all(world, 'container')).filter(({ fields }) => fields.standing === 'filled');
  for (const { id } of filled) await client.amend('container', id, { cooler });
  await client.amend('cooler', cooler, { packed: clock.wall(), carrier: COURIER, trackingNumber: TRACKING });
  await world.agenda.until(day.ms('18:40'));
  const observed = () => client.observed({ readBy: world.id('member', COORDINATOR) });
  const at = clock.wall();
  await client.record('seal', {
    cooler,
    number: SEAL,
    applied: at,
    appliedBy: COORDINATOR,
    observed: await observed(),
  });
  const sides = { cooler, at, purpose: 'Transport', number: 1 };
  const office = { ...sides, side: 'relinquished', name: COORDINATOR, organization: FIRM, to: COURIER };
  await client.record('hand-over', { ...office, observed: await observed() });
  await client.record('hand-over', {
    ...sides,
    side: 'received',
    name: COURIER,
    organization: COURIER,
    observed: await observed(),
  });
  await syncPhone(desk);
  world.tell('Office', `${COOLER} packed with ${filled.length} containers, sealed, and given to the courier`);
}

/** In the morning of the second day the laboratory opens it: a bottle is broken. */
export async function openCooler(world: World, day: Day, receive: Receive): Promise<void> {
  await world.agenda.until(day.ms('09:35'));
  await syncPhone(world.desk);
  const packed = (await all(world, 'container')).filter(({ fields }) => typeof fields.cooler === 'string');
  const broken = packed.find(({ fields }) => fields.group === 'chloride' || fields.group === 'sulfate');
  const items = broken ? [{ label: broken.fields.label, condition: 'broken' }] : [];
  const found = { temperatureC: '4.2', temperatureOf: 'blank', ice: true, sealsIntact: true, sealNumbers: [SEAL] };
  const labels = packed.map(({ fields }) => fields.label);
  const received = world.desk.clock.wall();
  const open = await receive({ cooler: COOLER, received, ...found, labels, items });
  world.tell('Laboratory', `${COOLER} opened at 4.2 degrees; open items: ${open}`);
}
