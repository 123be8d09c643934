import { expect, it } from 'vitest';
import { LocalError } from '../../src/client/local-error.ts';
import { syncOnce } from '../../src/client/sync.ts';
import type { Mutation } from '../../src/protocol/mutation.ts';
import { mutation } from '../../src/protocol/mutation.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import { CREW, EVENT, firmServer, MEMBER, PARTNER, recordPurge, recordReading, uuid, WELL } from './fake/world.ts';

async function phoneInTheField() {
  const server = firmServer();
  const clock = new SimClock();
  const phone = await openPhone({ server, clock, seed: 1 });
  await phone.setPerson(MEMBER);
  return { server, clock, phone };
}

async function lines(phone: Awaited<ReturnType<typeof openPhone>>): Promise<Mutation[]> {
  return (await phone.context.store.outbox()).map((entry) => JSON.parse(entry.line) as Mutation);
}

it('numbers mutations without a gap, and stamps person, clocks and order of capture', async () => {
  const { phone, clock } = await phoneInTheField();
  const purge = await recordPurge(phone);
  clock.pass(300_000);
  await recordReading(phone, purge, '7.10');
  const written = await lines(phone);
  expect(written.map((line) => line.mutationId)).toEqual([1, 2, 3]);
  expect(written[2]).toMatchObject({
    verb: 'record',
    kind: 'reading',
    by: MEMBER,
    set: { ph: '7.10', observed: { readBy: MEMBER, writtenBy: MEMBER, at: '2026-05-04T10:05:00.000-05:00' } },
    clock: { wall: '2026-05-04T10:05:00.000-05:00', monotonicMs: 301_000, boot: 'boot-1', sequence: 3 },
  });
  for (const line of written) expect(mutation.safeParse(line).error).toBeUndefined();
});

it('makes dense numbers also when the app records many things at once', async () => {
  const { phone } = await phoneInTheField();
  const purge = await recordPurge(phone);
  await Promise.all(Array.from({ length: 20 }, (_, at) => recordReading(phone, purge, `7.${at}`)));
  const numbers = (await phone.context.store.outbox()).map((entry) => entry.mutationId).sort((a, b) => a - b);
  expect(numbers).toEqual(Array.from({ length: 22 }, (_, at) => at + 1));
});

it('says which field cannot be read, what was given and what it may hold, and stores nothing', async () => {
  const { phone } = await phoneInTheField();
  const purge = await recordPurge(phone);
  const faulty = recordReading(phone, purge, 'seven');
  await expect(faulty).rejects.toThrowError(/reading\.ph is not a decimal string such as "7\.10".*given: "seven"/);
  await expect(faulty).rejects.toMatchObject({ code: 'unreadable_fields', pointers: ['/ph'] });
  await expect(phone.record('reading', { purge, pH: '7.1' })).rejects.toThrowError(LocalError);
  expect(await lines(phone)).toHaveLength(2);
  expect((await phone.identity()).nextMutation).toBe(3);
});

it('keeps a value that looks impossible: only the form is checked', async () => {
  const { phone } = await phoneInTheField();
  const purge = await recordPurge(phone);
  await recordReading(phone, purge, '19.80');
  expect((await lines(phone))[2]?.set).toMatchObject({ ph: '19.80' });
});

it('refuses kinds that do not exist or that the server derives', async () => {
  const { phone } = await phoneInTheField();
  await expect(phone.record('lunch', {})).rejects.toMatchObject({ code: 'unknown_kind' });
  await expect(phone.record('flag', {})).rejects.toMatchObject({ code: 'derived_kind' });
});

it('asks for a reason where an observation is corrected, and where anything is voided or re-homed', async () => {
  const { phone } = await phoneInTheField();
  const purge = await recordPurge(phone);
  const { id } = await recordReading(phone, purge, '7.10');
  await expect(phone.amend('reading', id, { ph: '7.20' })).rejects.toMatchObject({ code: 'reason_missing' });
  await expect(phone.voidRecord('reading', id, ' ')).rejects.toMatchObject({ code: 'reason_missing' });
  await phone.amend('purge', purge, { remark: 'cloudy at first' });
  await phone.amend('reading', id, { ph: '7.20' }, { reason: 'misread' });
  expect((await lines(phone)).slice(-1)[0]).toMatchObject({ verb: 'amend', reason: 'misread', set: { ph: '7.20' } });
});

it('leaves moves to the verb made for them, as the server does', async () => {
  const { phone } = await phoneInTheField();
  const purge = await recordPurge(phone);
  const [visit] = await phone.all('visit');
  const id = visit?.record.id ?? '';
  await expect(phone.amend('visit', id, { well: WELL })).rejects.toMatchObject({ code: 'home_fixed' });
  await expect(phone.amend('purge', purge, { visit: id })).rejects.toMatchObject({ code: 'home_fixed' });
  await expect(phone.rehome('purge', purge, { visit: id }, 'wrong one')).rejects.toMatchObject({ code: 'home_fixed' });
  await expect(phone.rehome('visit', id, { crew: CREW }, 'wrong one')).rejects.toMatchObject({ code: 'home_fixed' });
});

it('does not change what is not on the device', async () => {
  const { phone } = await phoneInTheField();
  const amending = phone.amend('purge', uuid(77), { remark: 'never seen' });
  await expect(amending).rejects.toMatchObject({ code: 'record_not_here' });
});

it('does not change what it holds no longer, though it has changed it before', async () => {
  const { server, phone } = await phoneInTheField();
  const purge = await recordPurge(phone);
  server.durable = () => 0;
  await syncOnce(phone);
  await syncOnce(phone);
  await phone.amend('purge', purge, { remark: 'clear' });
  const seen = await phone.one(purge);
  expect(seen?.record.fields.remark).toBe('clear');
  const { client } = await phone.identity();
  // The line of the record itself is gone, as it would be once durable.
  await phone.context.store.commit([{ drop: 'entry', client, mutationId: 2 }]);
  server.feeds = () => ['firm'];
  await syncOnce(phone);
  expect(await phone.one(purge)).toBeNull();
  await expect(phone.amend('purge', purge, { remark: 'odd' })).rejects.toMatchObject({ code: 'record_not_here' });
});

it('refuses a line that the wire would not carry, while the person can still shorten it', async () => {
  const { phone } = await phoneInTheField();
  const value = 'x'.repeat(70_000);
  await expect(phone.resolve(uuid(1), value)).rejects.toMatchObject({ code: 'record_not_here' });
  const suites = Array.from({ length: 40 }, (_, at) => `${at}${'é'.repeat(62)}`);
  const well = { site: uuid(2), name: 'N-9', standing: 'in-service', depthsFrom: 'ground' };
  await expect(phone.record('well', { ...well, remark: 'é'.repeat(4_000) })).resolves.toMatchObject({ mutationId: 1 });
  const assigned = phone.record('assignment', { event: EVENT, crew: CREW, suites }, { requires: [uuid(3)] });
  await expect(assigned).resolves.toMatchObject({ mutationId: 2 });
  const parts = Array.from({ length: 40 }, () => ({ part: '\u{1f527}'.repeat(32), material: '\u0001'.repeat(64) }));
  const unit = { type: 'other', label: 'U1', use: 'shared', ownership: 'owned', wettedParts: parts };
  await expect(phone.record('unit', unit)).resolves.toMatchObject({ mutationId: 3 });
});

it('cites the revision that was synced, or its own last mutation while that is not', async () => {
  const { phone } = await phoneInTheField();
  const purge = await recordPurge(phone);
  await phone.amend('purge', purge, { remark: 'first' });
  await phone.amend('purge', purge, { remark: 'second' });
  expect((await lines(phone)).slice(2).map((line) => line.base)).toEqual([{ after: 2 }, { after: 3 }]);
  await syncOnce(phone);
  await phone.amend('purge', purge, { remark: 'third' });
  expect((await lines(phone)).slice(-1)[0]?.base).toEqual({ rev: 3 });
});

it('cites its own mutation also between the answer to it and the row of it', async () => {
  const { server, phone } = await phoneInTheField();
  const purge = await recordPurge(phone);
  server.fault = ({ path }) => (path.includes('/rows') ? 'lose-request' : 'none');
  await syncOnce(phone);
  await phone.amend('purge', purge, { remark: 'first' });
  expect((await lines(phone)).slice(-1)[0]?.base).toEqual({ after: 2 });
  server.fault = () => 'none';
  const report = await syncOnce(phone);
  expect(report.outcomes).toMatchObject([{ outcome: 'applied', rev: 2 }]);
});

it('changes the person in one call: same device, same client, same outbox', async () => {
  const { phone } = await phoneInTheField();
  const purge = await recordPurge(phone);
  const before = await phone.identity();
  await phone.setPerson(PARTNER);
  await recordReading(phone, purge, '7.10');
  const after = await phone.identity();
  expect(after).toMatchObject({ client: before.client, person: PARTNER, nextMutation: 4 });
  expect((await lines(phone)).map((line) => line.by)).toEqual([MEMBER, MEMBER, PARTNER]);
  await phone.setPerson(null);
  await expect(phone.observed()).rejects.toMatchObject({ code: 'nobody_here' });
  await expect(phone.setPerson('the new one')).rejects.toMatchObject({ code: 'unreadable_person' });
});

it('tells apart who reads and who types, and when it was seen from when it was typed', async () => {
  const { phone } = await phoneInTheField();
  const at = '2026-05-04T09:40:00-05:00';
  const observed = await phone.observed({ at, captured: 'from-paper', readBy: PARTNER });
  expect(observed).toEqual({
    at,
    entered: '2026-05-04T10:00:00.000-05:00',
    captured: 'from-paper',
    readBy: PARTNER,
    writtenBy: MEMBER,
  });
});

it('counts what is unsent, with the capture time and the age of the oldest', async () => {
  const { phone, clock } = await phoneInTheField();
  expect(await phone.unsent(clock.wall())).toEqual({ count: 0, oldest: null, ageMs: null });
  await recordPurge(phone);
  clock.pass(7_200_000);
  expect(await phone.unsent(clock.wall())).toEqual({
    count: 2,
    oldest: '2026-05-04T10:00:00.000-05:00',
    ageMs: 7_200_000,
  });
  clock.pass(-86_400_000);
  expect((await phone.unsent(clock.wall())).ageMs).toBe(0);
});
