import { readFileSync } from 'node:fs';
import path from 'node:path';
import { Temporal } from 'temporal-polyfill';
import { v7 } from 'uuid';
import { expect, it } from 'vitest';
import { equipmentHere } from '../../src/client/equipment/equipment-here.ts';
import { kitHere } from '../../src/client/equipment/kit-here.ts';
import { openCrew } from '../../src/client-node/crew/open-crew.ts';
import { crewHere, crewTyping } from './crew-child.ts';
import { crewServer } from './crew-server.ts';

const crews = crewServer();
const numberIn = (out: string) => /kept as number (\d+)/.exec(out)?.[1] ?? '';

/** What the device keeps of its last capture. */
function lastSet(folder: string): Record<string, unknown> {
  const journal = readFileSync(path.join(folder, 'journal.ndjson'), 'utf8');
  const lines = [...journal.matchAll(/"line":("(?:[^"\\]|\\.)*")/g)].map(
    ([, line = '""']) => JSON.parse(line) as string,
  );
  return (JSON.parse(lines.at(-1) ?? '{}') as { set: Record<string, unknown> }).set;
}

it('does not choose between two values of one figure, whichever of its names is typed', async () => {
  const made = await crews.afield(crews.server.firm.ids.phone);
  const wrong = async (args: readonly string[], said: string) =>
    expect(await crewHere(made, ...args)).toMatchObject({ code: 1, err: expect.stringContaining(said) });
  await wrong(['reading', 'W-1', 'ph=6.52', 'ph=6.6'], 'pH is given twice, 6.52 and 6.6');
  await wrong(['reading', 'W-1', 'level=6.5', 'depthToWaterFt=6.6'], 'is given twice, 6.5 and 6.6');
  await wrong(['check', 'Meter A', 'ph', '7.0', 'temp=20', 'temp=21'], 'is given twice, 20 and 21');
  await wrong(['level', 'W-1', '6.5', 'at=09:00', '--at', '09:10'], 'the time is given twice, 09:10 and 09:00');
  expect((await crewHere(made, 'status')).out).toContain('unsent   0');
  const { out } = await crewHere(made, 'reading', 'W-1', 'ph=6.52');
  await wrong(['correct', numberIn(out), 'ph=6.5', 'ph=6.6', '--reason', 'x'], 'pH is given twice, 6.5 and 6.6');
  await wrong(['correct', numberIn(out), 'ph=6.52', '--reason', 'x'], 'nothing changes: ph is 6.52 in that reading');
}, 120_000);

it('takes the time at which something was read, in the zone of the site, and asks at a level that was read too late', async () => {
  const made = await crews.afield(crews.server.firm.ids.phone);
  const zoned = Temporal.Now.zonedDateTimeISO('America/Chicago');
  const earlier = '00:00';
  const offset = zoned.withPlainTime('00:00').offset;
  expect(await crewHere(made, 'level', 'W-1', '12.1', `at=${earlier}`)).toMatchObject({ code: 0 });
  expect(lastSet(made)).toMatchObject({
    observed: { at: `${zoned.toPlainDate().toString()}T00:00:00${offset}`, captured: 'same-day' },
  });
  await crewHere(made, 'reading', 'W-4D', 'ph=7.0');
  expect(lastSet(made)).toMatchObject({ observed: { captured: 'at-the-well' } });
  const late = await crewHere(made, 'level', 'W-4D', '12.3', '--purpose', 'before-purge');
  expect(late.out).toMatch(
    /question {2}The purge here began at \d\d:\d\d, and this level is of .*before the pump ran\?/,
  );
  const mended = await crewHere(made, 'correct', numberIn(late.out), 'at=00:00', '--reason', 'read before');
  expect(mended.out).toMatch(/water-level #\w+: at 20.* -> .*T00:00:00/);
  expect(lastSet(made)).toMatchObject({ observed: { captured: 'same-day' } });
  const before = await crewHere(made, 'level', 'W-4D', '12.2', '--purpose', 'before-purge', '--at', '00:00');
  expect(before.out).not.toContain('The purge here began');
  await crewTyping(made, ['level 12.4 at=00:00', 'done'], 'read', 'W-4D');
  expect(lastSet(made)).toMatchObject({ depthToWaterFt: '12.4', observed: { captured: 'same-day' } });
  expect((await crewHere(made, 'level', 'W-4D', '12.2', 'at=noon')).err).toContain('"noon" is no time of the day');
  expect((await crewHere(made, 'sync', '--at', '00:00')).err).toContain('crew sync takes no time: --at is for take');
  if (zoned.hour < 23)
    expect((await crewHere(made, 'level', 'W-4D', '12.2', 'at=23:59')).err).toContain('23:59 is still to come');
  await crews.reconnect(made);
  expect(await crewHere(made, 'sync')).toMatchObject({ code: 0, out: expect.not.stringContaining('set aside') });
}, 120_000);

it('takes hours and minutes where a time is corrected, on the day that is on record', async () => {
  const made = await crews.afield(crews.server.firm.ids.phone);
  await crewHere(made, 'reading', 'W-4S', 'ph=7.0');
  const { out } = await crewHere(made, 'sample', 'W-4S', 'N-1', 'VOC');
  const { collected } = lastSet(made);
  await crewHere(made, 'correct', numberIn(out), 'collected=09:45', '--reason', 'clock read wrong');
  expect(lastSet(made).collected).toBe(String(collected).replace(/T\d\d:\d\d:\d\d/, 'T09:45:00'));
}, 120_000);

it('says of a copy that it handed in what the server did not take of it', async () => {
  const { phone, otherPhone } = crews.server.firm.ids;
  const [one, two] = [await crews.afield(phone), await crews.afield(otherPhone)];
  const device = await openCrew(one, () => {});
  const observed = await device.client.observed();
  await device.client.record('reading', { purge: v7(), ph: '7.10', observed });
  await device.close();
  const copy = path.join(one, 'for-partner');
  await crewHere(one, 'copy', copy);
  await crewHere(two, 'carry', copy);
  await crews.reconnect(two);
  expect((await crewHere(two, 'sync')).out).toContain(
    'handed in 1 record of other phones, 1 of which the server set aside or refused: tell the office',
  );
  expect((await crewHere(two, 'status')).out).toContain('0 not handed in yet, 1 set aside or refused when handed in');
}, 120_000);

it('asks at the well what the records here speak against: whose it is, set up twice, never on it, no meter', async () => {
  const { phone, otherPhone } = crews.server.firm.ids;
  const [one, two] = [await crews.afield(phone), await crews.afield(otherPhone)];
  const bare = await crewHere(one, 'reading', 'W-1', 'ph=7.0', '--again');
  expect(bare.out).toContain('question  No meter is signed out to you, so this reading names none');
  expect((await crewHere(one, 'reading', 'W-1', 'ph=7.1')).out).not.toContain('No meter');
  await crewHere(one, 'take', 'Pump B');
  expect((await crewHere(one, 'set-up', 'W-1', 'Pump B', 'intake=30')).out).not.toContain('down this well since');
  expect((await crewHere(one, 'set-up', 'W-1', 'Pump B', 'intake=31')).out).toContain(
    'question  Pump B is down this well since',
  );
  await crewHere(one, 'part', 'Pump B', 'install', 'B-1', 'type=bladder');
  const never = await crewHere(one, 'part', 'Pump B', 'discard', 'B-7', 'type=bladder');
  expect(never.out).toContain(
    'question  No record says that B-7 was ever on Pump B: is that its label? On it by the records: bladder B-1.',
  );
  expect((await crewHere(one, 'part', 'Pump B', 'discard', 'B-1')).out).not.toContain('No record says');
  await crews.reconnect(one);
  await crewHere(one, 'sync');
  await crews.reconnect(two);
  await crewHere(two, 'sync');
  const question = /question {2}By the records North crew has Pump B since \d\d:\d\d\. Is it this one\?/;
  expect((await crewTyping(two, ['stop'], 'decon', 'Pump B')).out).toMatch(question);
  expect((await crewHere(two, 'use', 'W-4D', 'Pump B')).out).toMatch(question);
  await crewHere(two, 'take', 'Pump B');
  expect((await crewTyping(two, ['stop'], 'decon', 'Pump B')).out).not.toMatch(question);
}, 120_000);

it('tells what is owed by records of a day that has begun here and not yet at the site', async () => {
  const made = await crews.afield(crews.server.firm.ids.otherPhone);
  const { TZ } = process.env;
  // fourteen hours ahead of Greenwich: but for four hours a day it is tomorrow there
  process.env.TZ = 'Pacific/Kiritimati';
  try {
    await crewHere(made, 'take', 'Pump B');
    await crewHere(made, 'set-up', 'W-4S', 'Pump B', 'intake=20', '--again');
    await crewHere(made, 'leave', 'W-4S', 'sampled');
    expect((await crewHere(made, 'owed')).out).toMatch(/owed {6}Pump B .*W-4S/);
  } finally {
    process.env.TZ = TZ;
  }
}, 120_000);

it('says without a signal what to take along, and what is owed tonight', async () => {
  const made = await crews.afield(crews.server.firm.ids.phone);
  await crewHere(made, 'take', 'Pump A');
  await crewHere(made, 'set-up', 'W-4S', 'Pump A', 'intake=20', '--again');
  await crewHere(made, 'leave', 'W-4S', 'sampled');
  const owed = await crewHere(made, 'owed');
  expect(owed).toMatchObject({ code: 0, err: '' });
  expect(owed.out).toMatch(/owed {6}Pump A .*W-4S/);
  expect(owed.out).toMatch(/owed on 20\d\d-\d\d-\d\d, by what is on this device/);
  const kit = await crewHere(made, 'kit');
  expect(kit).toMatchObject({ code: 0, err: '' });
  expect(kit.out).toMatch(/unit {6}Pump A, bladder pump/);
  expect(kit.out).toMatch(/\nnot looked at {2}.*\(/);
  expect(kit.out).toContain('no check of the kit is recorded for this day here');
  await crews.reconnect(made);
  await crewHere(made, 'sync');
  const { phone, event: id, north } = crews.server.firm.ids;
  const headers = { authorization: `Bearer ${await crews.server.token('crew', phone)}` };
  const day = Temporal.Now.zonedDateTimeISO('America/Chicago').toPlainDate().toString();
  const said = await crews.server.app.inject({ method: 'GET', url: `/v1/events/${id}/kit?day=${day}`, headers });
  expect(said.statusCode).toBe(200);
  const device = await openCrew(made, () => {});
  const event = (await device.client.one(id))?.record;
  if (!event) throw new Error('the event is not here');
  const here = kitHere(await equipmentHere(device.client), { crew: north, event, day });
  await device.close();
  expect(here).toEqual(said.json());
}, 120_000);
