import { cp, rm } from 'node:fs/promises';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import type { DurableStore } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { openFileStore } from '../../src/client-node/file-store.ts';
import { SimClock } from '../client/fake/phone.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { newFolder } from './kept-files.ts';

let server: TestApp;
const clock = new SimClock();
const folders: string[] = [];

beforeAll(async () => {
  server = await testApp();
});
afterAll(async () => {
  await server.close();
  for (const folder of folders) await rm(folder, { recursive: true, force: true });
});

/** Loses the answer of a push, where it is told to. */
let loses = false;

const fetch: FetchLike = async (url, { method, headers, body }) => {
  const payload = body === undefined ? {} : { payload: body };
  const answer = await server.app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
  if (loses && url.includes('/push')) throw new Error('the answer was lost');
  return { status: answer.statusCode, headers: { get: () => null }, text: async () => answer.body };
};

interface Phone {
  readonly folder: string;
  readonly store: DurableStore;
  readonly client: FieldClient;
}

async function open(folder: string, token: string): Promise<Phone> {
  const store = await openFileStore({ folder });
  const transport = httpTransport({ base: 'http://server', token, fetch });
  const client = await openClient({ store, transport, time: clock, newId: v7 });
  await client.setPerson(server.firm.ids.ann);
  return { folder, store, client };
}

async function folder(): Promise<string> {
  const made = await newFolder();
  folders.push(made);
  return made;
}

/** A copy of what is on the disk, as a backup or a second phone has it. */
async function copyOf(phone: Phone): Promise<string> {
  const copy = await folder();
  await phone.store.close();
  await cp(phone.folder, copy, { recursive: true });
  return copy;
}

async function purgeAt({ client }: Phone): Promise<string> {
  const { event, lone: well, north: crew } = server.firm.ids;
  const visit = await client.record('visit', { event, well, crew, method: 'low-flow', arrived: clock.wall() });
  return (await client.record('purge', { visit: visit.id, began: clock.wall() })).id;
}

async function readingAt({ client }: Phone, purge: string, ph: string): Promise<string> {
  clock.pass(300_000);
  return (await client.record('reading', { purge, ph, observed: await client.observed() })).id;
}

/** Every value that the ledger ever had of the readings of a purge, by its record. */
async function ledgerOf(purge: string): Promise<string[]> {
  const { rows } = await server.db.bypass.query(
    `select state #>> '{fields,ph}' as ph, rev from ledger where kind = 'reading' and state #>> '{fields,purge}' = $1`,
    [purge],
  );
  return rows.map(({ ph, rev }) => `${ph} rev ${rev}`).sort();
}

async function deviceStatus(token: string) {
  const url = `/v1/events/${server.firm.ids.event}/status`;
  const answer = await server.app.inject({ url, headers: { authorization: `Bearer ${token}` } });
  const devices = answer.json().crews.flatMap(({ devices: all }: { devices: unknown[] }) => all);
  return devices.find(({ id }: { id: string }) => id === server.firm.ids.phone);
}

describe('a phone whose files are an older copy of themselves', () => {
  it('[E7] is answered for what the server has, says only the rest anew, and tells the office', async () => {
    const token = await server.token('crew', server.firm.ids.phone);
    let phone = await open(await folder(), token);
    await syncOnce(phone.client);
    const purge = await purgeAt(phone);
    await readingAt(phone, purge, '7.10');
    await phone.client.amend('purge', purge, { remark: 'clear' });
    const backup = await copyOf(phone);
    phone = await open(phone.folder, token);
    await readingAt(phone, purge, '7.20');
    expect(await syncOnce(phone.client)).toMatchObject({ problem: null, pushed: 5, restored: false });
    const told = (await phone.client.context.store.outbox()).map(({ outcome }) => outcome);
    const { client: old } = await phone.client.identity();
    await phone.store.close();
    const office = await server.token('coordinator');
    expect((await deviceStatus(office)).cameBackAt).toBeNull();

    // the phone fell into the well; another goes on from its backup, in which nothing of it was answered
    const restored = await open(backup, token);
    const before = await ledgerOf(purge);
    const report = await syncOnce(restored.client);
    expect(report).toMatchObject({ problem: null, pushed: 4, newIdentities: 1, restored: true, unsent: { count: 0 } });
    expect(report.outcomes).toEqual(told.slice(0, 4));
    const { client, formerly, nextMutation } = await restored.client.identity();
    expect([formerly, nextMutation]).toEqual([old, 1]);
    expect(client).not.toBe(old);
    expect(await ledgerOf(purge)).toEqual(before);
    expect(Date.parse((await deviceStatus(office)).cameBackAt)).toBe(server.firm.nowMs);
    // what it captures now has a number that nobody used
    await readingAt(restored, purge, '7.30');
    expect(await syncOnce(restored.client)).toMatchObject({
      problem: null,
      pushed: 1,
      newIdentities: 0,
      restored: false,
    });
    expect(await ledgerOf(purge)).toEqual(['7.10 rev 1', '7.20 rev 1', '7.30 rev 1']);
    expect(await restored.client.conflicts()).toEqual([]);
    await restored.store.close();
  });

  it('[E7] says anew what it captured before it came back to the server, and nothing else', async () => {
    const token = await server.token('crew', server.firm.ids.phone);
    let phone = await open(await folder(), token);
    await syncOnce(phone.client);
    const purge = await purgeAt(phone);
    const reading = await readingAt(phone, purge, '7.10');
    const backup = await copyOf(phone);
    phone = await open(phone.folder, token);
    await readingAt(phone, purge, '7.20');
    await phone.client.amend('reading', reading, { ph: '7.11' }, { reason: 'misread' });
    await syncOnce(phone.client);
    await phone.store.close();
    const restored = await open(backup, token);
    const mine = await readingAt(restored, purge, '7.40');
    await restored.client.amend('reading', mine, { ph: '7.41' }, { reason: 'misread' });
    const report = await syncOnce(restored.client);
    expect(report).toMatchObject({ problem: null, pushed: 5, newIdentities: 1, restored: true, unsent: { count: 0 } });
    expect(await ledgerOf(purge)).toEqual(['7.10 rev 1', '7.11 rev 2', '7.20 rev 1', '7.40 rev 1', '7.41 rev 2']);
    expect(await restored.client.conflicts()).toEqual([]);
    expect((await restored.client.one(reading))?.record.fields.ph).toBe('7.11');
    await restored.store.close();
  });

  it('[E7] of two phones that run on one copy each keeps every record of both, and nothing is there twice', async () => {
    const token = await server.token('crew', server.firm.ids.phone);
    let phone = await open(await folder(), token);
    await syncOnce(phone.client);
    const purge = await purgeAt(phone);
    // pushed and not heard of: both will ask what became of it
    loses = true;
    await readingAt(phone, purge, '7.00');
    await syncOnce(phone.client);
    loses = false;
    const second = await copyOf(phone);
    phone = await open(phone.folder, token);
    const twin = await open(second, token);
    const wanted = ['7.00 rev 1'];
    const identities = { phone: 0, twin: 0 };
    for (let at = 0; at < 4; at++) {
      await readingAt(phone, purge, `7.1${at}`);
      await readingAt(twin, purge, `7.2${at}`);
      wanted.push(`7.1${at} rev 1`, `7.2${at} rev 1`);
      identities.phone += (await syncOnce(phone.client)).newIdentities;
      identities.twin += (await syncOnce(twin.client)).newIdentities;
    }
    expect(identities).toEqual({ phone: 0, twin: 1 });
    for (const one of [phone, twin, phone]) {
      expect(await syncOnce(one.client)).toMatchObject({ problem: null, unsent: { count: 0 }, newIdentities: 0 });
    }
    expect(await ledgerOf(purge)).toEqual(wanted.sort());
    expect(await twin.client.all('reading')).toEqual(await phone.client.all('reading'));
    expect(await phone.client.conflicts()).toEqual([]);
    await phone.store.close();
    await twin.store.close();
  });
});
