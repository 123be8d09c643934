import type { Crew, World } from './world.ts';

/** What a crew of the round takes along, as it was there on the first morning. Invented. */
const ITEMS = [
  { item: 'Bottles for VOC', expected: 18, found: 18, standing: 'ok' },
  { item: 'Bottles for PFAS', expected: 12, found: 12, standing: 'ok' },
  { item: 'Bottles for metals', expected: 6, found: 6, standing: 'ok' },
  { item: 'Water free of PFAS for blanks', expected: 4, found: 4, standing: 'ok', lot: 'PW-2609' },
  { item: 'Buffer pH 7', expected: 1, found: 1, standing: 'ok', lot: 'PH-7-118', expires: '2027-03-31' },
  { item: 'New bladders', expected: 8, found: 8, standing: 'ok', lot: 'BL-2609' },
  { item: 'Gas for the pump, full cylinders', expected: 1, found: 1, standing: 'ok' },
  { item: 'Ice', standing: 'ok' },
  { item: 'Drum with room', expected: 1, found: 1, standing: 'ok', remark: 'Drum 3, a third full' },
  { item: 'Keys of the wells and the gate code', standing: 'ok' },
] as const;

/** The crew goes through its kit before it drives off. */
export async function checkKit(world: World, crew: Crew): Promise<void> {
  const [phone] = crew.phones;
  const [person] = crew.people;
  await phone.client.record('kit-check', {
    event: world.event,
    crew: crew.id,
    items: ITEMS,
    observed: await phone.client.observed({ readBy: world.id('member', person) }),
  });
}
