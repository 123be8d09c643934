import type { ViewRecord } from '../../src/client/overlay.ts';
import { loseSignal } from './crew-day.ts';
import { type Phone, syncPhone } from './phone.ts';
import { usualVisit } from './visit.ts';
import { PLANS } from './visit-plans.ts';
import type { Crew, Day, World } from './world.ts';

/** What the sheet says of the last reading of MW-10, and what was typed. */
const ON_THE_SHEET = '6.91';
const TYPED = '6.19';
const LAST_READING = PLANS.mw10.shape.readings;

/** The phone was flat, so MW-10 was written on a sheet. One reads it out in the evening, the other types, and slips. */
export async function typeSheet(world: World, day: Day, crew: Crew): Promise<void> {
  const plan = { ...PLANS.mw10, at: '10:20', paper: true, otherwise: { [LAST_READING]: { ph: TYPED } } } as const;
  await usualVisit(world, day, crew, plan);
  world.tell(crew.name, 'MW-10 typed from its sheet');
}

/** Readings of a well, as a phone has them after a sync, in the order of their times. */
async function readingsOf(world: World, phone: Phone, well: string): Promise<ViewRecord[]> {
  const visits = await phone.client.all('visit');
  const visit = visits.find(({ record }) => record.fields.well === world.id('well', well));
  const purges = await phone.client.all('purge');
  const purge = purges.find(({ record }) => record.fields.visit === visit?.record.id);
  const at = ({ record }: ViewRecord) => (record.fields.observed as { readonly at: string }).at;
  const readings = (await phone.client.all('reading')).filter(({ record }) => record.fields.purge === purge?.record.id);
  return readings.sort((a, b) => Date.parse(at(a)) - Date.parse(at(b)));
}

function reading(readings: readonly ViewRecord[], index: number): string {
  const found = readings.at(index);
  if (found === undefined) throw new Error(`a reading that was to be corrected is not on the phone: number ${index}`);
  return found.record.id;
}

/** The morning after, the sheet is compared with what was typed: two digits were swapped. */
export async function correctTypedSheet(world: World, day: Day, crew: Crew): Promise<void> {
  const [phone] = crew.phones;
  await world.agenda.until(day.ms('07:20'));
  const last = reading(await readingsOf(world, phone, 'MW-10'), -1);
  const reason = `Digits swapped while typing: the sheet says ${ON_THE_SHEET}`;
  await phone.client.amend('reading', last, { ph: ON_THE_SHEET }, { reason });
  phone.line.signal = true;
  await syncPhone(phone);
  loseSignal(crew);
  world.tell(crew.name, `MW-10: the last pH corrected from ${TYPED} to ${ON_THE_SHEET}`);
}

/** Both people of the crew correct the same turbidity of MW-1, each on a phone of their own and without a signal. */
export async function correctTwice(world: World, day: Day, crew: Crew): Promise<void> {
  const [first, second] = crew.phones;
  const id = reading(await readingsOf(world, first, 'MW-1'), 1);
  await world.agenda.until(day.ms('07:30'));
  const blot = { reason: 'Blot on the sheet; read as 38.4' };
  await first.client.amend('reading', id, { turbidityNtu: '38.4' }, blot);
  await second.client.amend('reading', id, { turbidityNtu: '33.4' }, { reason: 'Blot on the sheet; read as 33.4' });
  for (const phone of [first, second]) {
    phone.line.signal = true;
    await syncPhone(phone);
  }
  world.tell(crew.name, 'MW-1: both phones corrected one turbidity, differently; both values are kept');
}
