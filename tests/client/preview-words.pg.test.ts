import { v7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { previewFlags } from '../../src/client/preview/flags.ts';
import { previewPurge, previewVisit } from '../../src/client/preview/preview.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { SimClock } from './fake/phone.ts';
import { serverPhone } from './server-phone.ts';

let server: TestApp;
let phone: FieldClient;
const clock = new SimClock();

beforeAll(async () => {
  server = await testApp();
});
afterAll(() => server.close());
beforeEach(async () => {
  phone = await serverPhone(server, clock, server.firm.ids.phone);
});

async function sync(): Promise<void> {
  server.firm.nowMs = clock.nowMs;
  expect(await syncOnce(phone)).toMatchObject({ problem: null });
}

async function visitHere(more: object = {}) {
  const { event, lone, north } = server.firm.ids;
  const set = { event, well: lone, crew: north, method: 'low-flow', arrived: clock.wall(), ...more };
  const visit = (await phone.record('visit', set)).id;
  return { visit, purge: (await phone.record('purge', { visit, began: clock.wall() })).id };
}

async function reading(purge: string, more: object = {}) {
  clock.pass(300_000);
  const figures = { temperatureC: '12.1', ph: '7.01', specificConductanceUsPerCm: '510', turbidityNtu: '3.1' };
  const rest = { dissolvedOxygenMgPerL: '2.10', orpMv: '110', flowMlPerMin: '200', depthToWaterFt: '21.40' };
  const { meter } = server.firm.ids;
  return phone.record('reading', { purge, meter, ...figures, ...rest, observed: await phone.observed(), ...more });
}

it('[P3] names what is not on the phone, and says nothing of what it cannot tell', async () => {
  const { visit, purge } = await visitHere();
  const nothing = await previewPurge(phone, purge);
  expect(nothing).toMatchObject({ assessment: null, notTaken: [] });
  expect(nothing.notLookedAt.map(({ what }) => what)).toEqual(
    expect.arrayContaining(['firm-not-here', 'event-not-here', 'well-not-here', 'feed-not-complete', 'clock']),
  );
  await sync();
  const unknown = v7();
  await reading(purge, { meter: unknown });
  const seen = await previewVisit(phone, visit);
  expect(seen.notLookedAt.map(({ what, named }) => [what, named])).toEqual([['records-not-here', [unknown]]]);
  // the server may know the meter: what can be said without it is said
  expect(seen.assessments[0]?.here?.stable).toBe(false);
  expect(seen.notTaken).toEqual([]);
  expect((await previewVisit(phone, v7())).notLookedAt[0]).toMatchObject({ what: 'visit-not-here' });
  expect(await previewPurge(phone, unknown)).toMatchObject({ assessment: null, notLookedAt: [{ named: [unknown] }] });
});

it('[P3] says beforehand what the role of the device may not write, and does not reckon with it', async () => {
  await sync();
  const { visit, purge } = await visitHere();
  await reading(purge);
  const { well, lone } = { well: 'well', lone: server.firm.ids.lone };
  await phone.amend(well, lone, { totalDepthFt: '11' });
  const seen = await previewVisit(phone, visit);
  expect(seen.notTaken).toMatchObject([{ kind: 'well', id: lone, outcome: 'set_aside', code: 'right_missing' }]);
  await sync();
  expect(await phone.troubles()).toMatchObject([{ outcome: { code: 'right_missing' } }]);
});

it('[P4] stands beside the last word of the server, and says which of the two is newer', async () => {
  await sync();
  const { purge } = await visitHere();
  for (const _ of [1, 2, 3, 4]) await reading(purge);
  const alone = await previewPurge(phone, purge);
  expect(alone.assessment).toMatchObject({ here: { stable: true }, server: null, rev: null, agrees: false });
  expect(alone.ahead).toMatchObject({
    unsent: 6,
    sentence: expect.stringContaining('6 changes of this visit did not'),
  });
  await sync();
  const same = await previewPurge(phone, purge);
  expect(same.assessment).toMatchObject({ agrees: true, rev: 1, here: { stable: true } });
  expect(same.ahead).toEqual({ unsent: 0, notPulled: 0, agrees: true, sentence: 'The server said the same.' });
  await reading(purge, { ph: '7.9' });
  const ahead = await previewPurge(phone, purge);
  expect(ahead.assessment).toMatchObject({ here: { stable: false }, server: { stable: true }, agrees: false });
  expect(ahead.ahead.sentence).toContain('1 change of this visit did not reach the server yet');
  expect(ahead.cautions.join(' ')).toContain('another version of the rules');
});

it('[P2] a flag that a correction cleared before the last sync stays as the server said it', async () => {
  await sync();
  const { visit, purge } = await visitHere();
  const { id } = await reading(purge, { ph: '71.0' });
  await sync();
  await phone.amend('reading', id, { ph: '7.10' }, { reason: 'comma' });
  await sync();
  await reading(purge);
  const seen = await previewVisit(phone, visit);
  const cleared = seen.flags.filter(({ here }) => here?.standing === 'cleared');
  expect(cleared).toMatchObject([{ agrees: true, here: { rule: 'value-not-believable' } }]);
  expect(seen.notLookedAt).toMatchObject([{ what: 'former-values', named: [id] }]);
});

it('[P5] asks at a mistyped value before it is sent, keeps the record, and stops asking once it is corrected', async () => {
  await sync();
  const { purge } = await visitHere();
  await reading(purge);
  const slip = await reading(purge, { ph: '71.0' });
  const asked = await previewFlags(phone, slip);
  expect(asked?.now).toMatchObject([{ rule: 'value-not-believable', addressee: 'now', standing: 'raised' }]);
  expect(asked?.now[0]?.evidence).toMatchObject([{ record: slip.id, field: 'ph', shows: '71.0' }]);
  const quiet = await previewFlags(phone, await reading(purge));
  expect(quiet?.now).toEqual([]);
  const mended = await phone.amend('reading', slip.id, { ph: '7.10' }, { reason: 'comma forgotten' });
  expect(await previewFlags(phone, mended)).toMatchObject({ now: [], cleared: [{ rule: 'value-not-believable' }] });
  await sync();
  expect((await phone.one(slip.id))?.record.fields.ph).toBe('7.10');
  const elsewhere = await phone.record('sign-out', {
    unit: server.firm.ids.pump,
    crew: server.firm.ids.north,
    from: clock.wall(),
    observed: await phone.observed(),
  });
  expect(await previewFlags(phone, elsewhere)).toBeNull();
});

it('[P3] lists conflicts in words with their values, and says whether this device may decide them', async () => {
  const office = await serverPhone(server, clock, server.firm.ids.otherPhone, 'coordinator');
  await sync();
  const { purge } = await visitHere();
  await sync();
  expect(await syncOnce(office)).toMatchObject({ problem: null });
  await phone.amend('purge', purge, { remark: 'cloudy' });
  await office.amend('purge', purge, { remark: 'clear' });
  await sync();
  await syncOnce(office);
  await sync();
  const [mine, theirs] = [(await phone.conflicts())[0], (await office.conflicts())[0]];
  expect(theirs).toMatchObject({ mayDecide: true, choices: [{ value: 'clear', shown: true }, { value: 'cloudy' }] });
  expect(mine).toMatchObject({
    mayDecide: false,
    sentence: expect.stringContaining('"clear" is shown, "cloudy" is kept'),
  });
  await phone.resolve(mine?.id ?? '', 'cloudy');
  expect(await phone.conflicts()).toHaveLength(1);
  // without a signal, a coordinator decides; what stands is the server's to write
  await office.resolve(theirs?.id ?? '', 'cloudy', 'seen in the jar');
  expect(await office.conflicts()).toEqual([]);
  await syncOnce(office);
  await sync();
  expect(await phone.conflicts()).toEqual([]);
  expect((await phone.one(purge))?.record.fields.remark).toBe('cloudy');
});

it('[P1] [V4] reads a line in the version in which it was captured, as the push says it', async () => {
  const office = await serverPhone(server, clock, server.firm.ids.otherPhone, 'coordinator');
  await sync();
  const { visit, purge } = await visitHere();
  await sync();
  await syncOnce(office);
  await phone.amend('purge', purge, { remark: 'cloudy' });
  await office.amend('purge', purge, { remark: 'clear' });
  await sync();
  await syncOnce(office);
  const [conflict] = await office.conflicts();
  await office.resolve(conflict?.id ?? '', 'milky', 'seen in the jar');
  const { store } = office.context;
  const entry = (await store.outbox()).find(({ outcome }) => outcome === null);
  if (!entry) throw new Error('the decision is not in the outbox');
  // of version 3 it is none of the values and does not say so
  expect((await previewVisit(office, visit)).notTaken).toMatchObject([{ outcome: 'refused' }]);
  await store.commit([{ put: 'entry', entry: { ...entry, schemaVersion: 2 } }]);
  const seen = await previewVisit(office, visit);
  expect(seen.notTaken).toEqual([]);
  const here = { standing: 'resolved', shown: { value: 'milky' } };
  expect(seen.conflicts).toMatchObject([{ here, server: { standing: 'open' } }]);
  await syncOnce(office);
  expect(await office.troubles()).toEqual([]);
  expect((await office.one(purge))?.record.fields.remark).toBe('milky');
});

it('[P4] shows what the server says of another crew at the well, and does not guess it', async () => {
  const { otherPhone, north, south } = server.firm.ids;
  const other = await serverPhone(server, clock, otherPhone);
  expect(await syncOnce(other)).toMatchObject({ problem: null });
  const { event, lone } = server.firm.ids;
  const place = { event, well: lone, method: 'low-flow' };
  await other.record('visit', { ...place, crew: south, arrived: clock.wall() });
  expect(await syncOnce(other)).toMatchObject({ problem: null });
  clock.pass(60_000);
  await sync();
  const { visit, purge } = await visitHere({ crew: north });
  await reading(purge);
  const isAsked = ({ here, server: said }: { here: unknown; server: unknown }) =>
    [here, said].some((one) => (one as { rule?: string } | null)?.rule === 'well-purged-by-two-crews');
  expect((await previewVisit(phone, visit)).flags.filter(isAsked)).toEqual([]);
  await sync();
  const seen = await previewVisit(phone, visit);
  const [flag, ...more] = seen.flags.filter(isAsked);
  expect(more).toEqual([]);
  expect(flag).toMatchObject({ agrees: true, here: { subject: visit, standing: 'raised' }, rev: 1 });
  expect(seen.ahead).toMatchObject({ agrees: true, sentence: 'The server said the same.' });
  expect(seen.cautions.join(' ')).toContain('whether two crews purge one well');
});
