import { stat } from 'node:fs/promises';
import path from 'node:path';
import { expect, it, vi } from 'vitest';
import { takeNewIdentity } from '../../src/client/new-identity.ts';
import { openCrew } from '../../src/client-node/crew/open-crew.ts';
import { SCHEMA_VERSION } from '../../src/protocol/version.ts';
import { crew, crewHere, Typist } from './crew-child.ts';
import { crewServer } from './crew-server.ts';
import { flip } from './kept-files.ts';

const crews = crewServer();
const joined = (device: string) => crews.joined(device);

it('joins, works without a server, and sends all of it in the names of who read and who wrote', async () => {
  const { phone, ann, bob } = crews.server.firm.ids;
  const made = await joined(phone);
  expect((await stat(path.join(made, 'crew.json'))).mode & 0o077).toBe(0);
  await crews.cutOff(made);
  expect((await crewHere(made, 'wells')).out).toMatch(/W-1 +40 ft below the measuring point; yours; not visited/);
  expect(await crewHere(made, 'who', '--reads', 'bw', '--writes', 'AR')).toMatchObject({
    code: 0,
    out: 'BW reads, AR writes\n',
  });
  expect(await crew(made, 'level', 'w-1', '12.30')).toMatchObject({
    code: 0,
    out: expect.stringContaining('kept as number'),
  });
  expect(await crew(made, 'reading', 'W-1', 'ph=7.10', 'temp=15.20', 'do=0.41')).toMatchObject({ code: 0 });
  expect((await crewHere(made, 'swap')).out).toBe('AR reads, BW writes\n');
  expect(await crew(made, 'reading', 'W-1', 'ph=7.12')).toMatchObject({ code: 0 });
  expect(await crew(made, 'call', 'W-1', 'purging-continued')).toMatchObject({ code: 0 });
  const offline = await crew(made, 'sync');
  expect(offline).toMatchObject({ code: 2, out: expect.stringContaining('Nothing is lost') });
  expect((await crewHere(made, 'status')).out).toContain('unsent   7, the oldest of');
  await crews.reconnect(made);
  expect(await crew(made, 'sync')).toMatchObject({ code: 0, out: expect.stringContaining('sent 7, got') });
  const { rows } = await crews.server.db.bypass.query(
    `select l.state::jsonb #> '{fields}' as fields from head h join ledger l using (firm, feed, seq)
     where l.state::jsonb ->> 'kind' = 'reading' order by h.seq`,
  );
  expect(rows.map(({ fields }) => [fields.ph, fields.observed.readBy, fields.observed.writtenBy])).toEqual([
    ['7.10', bob, ann],
    ['7.12', ann, bob],
  ]);
  const shown = await crewHere(made, 'well', 'W-1');
  expect(shown.out).toContain('level    depthToWaterFt 12.30, purpose synoptic, state measured');
  expect(shown.out).toContain('server   not stable yet');
  expect(shown.out).not.toContain('no water level before it');
  expect(await crewHere(made, 'leave', 'W-1', 'not-stable', '--reason', 'Pump failed')).toMatchObject({ code: 0 });
  expect((await crewHere(made, 'wells')).out).toMatch(/W-1 .*not-stable/);
}, 120_000);

it('changes who reads with one key, and has every line that it said was kept when it is killed in mid-entry', async () => {
  const made = await joined(crews.server.firm.ids.phone);
  await crews.cutOff(made);
  await crewHere(made, 'who', '--reads', 'BW', '--writes', 'AR');
  const typist = new Typist(made, 'W-4S');
  await typist.waitFor('[BW reads, AR writes] W-4S> ');
  typist.type('level 7.35\n');
  await typist.waitFor('kept as number');
  typist.type('ph=6.80 temp=14.0\n');
  await typist.waitFor('; BW reads, AR writes', 2);
  typist.type('\tph=6.8x\u007f1 temp=14.1\r');
  await typist.waitFor('ph=6.81 temp=14.1; AR reads, BW writes');
  typist.type('ph=acid\n');
  await typist.waitFor('not kept: ');
  typist.type('ph=6.82 te');
  await new Promise((done) => setTimeout(done, 50));
  await typist.kill();
  const status = await crewHere(made, 'status');
  expect(status.out).toContain('here     AR reads, BW writes');
  const shown = await crew(made, 'well', 'W-4S');
  expect(shown.out.match(/^(level|reading) .*(?= {2}#[0-9a-f]{6}$)/gm)).toEqual([
    'level    depthToWaterFt 7.35, purpose before-purge, state measured',
    'reading  ph 6.80, temperatureC 14.0',
    'reading  ph 6.81, temperatureC 14.1',
  ]);
  await crews.reconnect(made);
  expect(await crew(made, 'sync')).toMatchObject({ code: 0, out: expect.not.stringContaining('set aside') });
}, 120_000);

it('is killed at random moments while lines come fast, and misses none that it said was kept', async () => {
  const made = await joined(crews.server.firm.ids.phone);
  await crews.cutOff(made);
  await crewHere(made, 'who', '--writes', 'AR');
  const kept: string[] = [];
  for (let round = 0; round < 4; round++) {
    const typist = new Typist(made, 'W-1');
    await typist.waitFor('W-1> ');
    const lines = Array.from({ length: 300 }, (_, at) => `ph=${round}.${String(at).padStart(3, '0')}\n`);
    typist.type(lines.join(''));
    await typist.waitFor('kept as number', 3);
    await new Promise((done) => setTimeout(done, Math.random() * 200));
    await typist.kill();
    kept.push(...[...typist.out.matchAll(/^.*kept as number \d+: ph=(\S+);/gm)].map((match) => match[1] ?? ''));
  }
  const shown = (await crewHere(made, 'well', 'W-1')).out;
  const there = [...shown.matchAll(/^reading {2}ph (\S+) {2}#/gm)].map((match) => match[1]);
  expect(kept.length).toBeGreaterThan(11);
  expect(kept.filter((ph) => !there.includes(ph))).toEqual([]);
}, 120_000);

it('shows a conflict with both values and decides it, if a coordinator does', async () => {
  const { phone, otherPhone, lone, event, north } = crews.server.firm.ids;
  const coordinator = await crews.server.token('coordinator', otherPhone);
  const [one, two] = [await joined(phone), await crews.folder()];
  expect(await crewHere(two, 'join', crews.url, coordinator)).toMatchObject({ code: 0 });
  await crewHere(one, 'who', '--writes', 'AR');
  await crewHere(two, 'who', '--writes', 'BW');
  const admin = await crews.server.firm.client('admin');
  const [visit] = await admin.push({
    kind: 'visit',
    set: { event, well: lone, crew: north, method: 'gauging', arrived: '2026-05-04T09:00:00-05:00' },
  });
  await admin.push({ kind: 'visit', verb: 'amend', id: visit?.id ?? '', base: { rev: 1 }, set: { outcome: 'dry' } });
  const before = { was: { outcome: null } };
  await admin.push({ kind: 'visit', verb: 'amend', id: visit?.id ?? '', base: before, set: { outcome: 'frozen' } });
  const other = await crews.server.firm.client('coordinator');
  await other.push({ kind: 'visit', verb: 'amend', id: visit?.id ?? '', base: before, set: { outcome: 'obstructed' } });
  await crewHere(two, 'sync');
  const listed = (await crewHere(two, 'conflicts')).out;
  expect(listed).toContain('1) obstructed');
  expect(listed).toContain('2) frozen');
  expect(await crewHere(two, 'resolve', '1', '3')).toMatchObject({
    code: 1,
    err: expect.stringContaining('no value 3'),
  });
  // as text, one that was given; --neither takes one that nobody gave, with a reason
  const neither = (...more: readonly string[]) => crewHere(two, 'resolve', '1', '--neither', ...more);
  expect(await neither('covered')).toMatchObject({ code: 1, err: expect.stringContaining('takes a reason') });
  expect(await neither('frozen', '--reason', 'a')).toMatchObject({
    code: 1,
    err: expect.stringContaining('is one of'),
  });
  await crewHere(one, 'sync');
  const proposed = ['--neither', 'covered', '--reason', 'seen', '--anyway'];
  expect(await crewHere(one, 'resolve', '1', ...proposed)).toMatchObject({ code: 0 });
  const device = await openCrew(one, () => {});
  const [line] = (await device.client.context.store.outbox()).map((entry) => JSON.parse(entry.line));
  await device.close();
  expect(line).toMatchObject({ verb: 'resolve', set: { value: 'covered', neither: true }, reason: 'seen' });
  expect(await crewHere(two, 'resolve', '1', 'frozen', '--reason', 'looked again')).toMatchObject({ code: 0 });
  expect(await crewHere(two, 'sync')).toMatchObject({ code: 0 });
  expect((await crewHere(two, 'conflicts')).out).toContain('no conflict is open');
  const { rows } = await crews.server.db.bypass.query('select outcome from visit where id = $1', [visit?.id]);
  expect(rows).toEqual([{ outcome: 'frozen' }]);
}, 120_000);

it("takes a partner's copy along when that device is gone", async () => {
  const { phone, otherPhone } = crews.server.firm.ids;
  const [one, two] = [await joined(phone), await joined(otherPhone)];
  await crews.cutOff(one);
  await crewHere(one, 'who', '--writes', 'AR');
  await crewHere(one, 'reading', 'W-1', 'ph=5.55');
  const copy = path.join(one, 'for-partner');
  expect(await crewHere(one, 'copy', copy)).toMatchObject({ code: 0 });
  // its own next copy takes its place, a partner's does not: this one may be all that is left of a lost phone
  expect(await crewHere(one, 'copy', copy)).toMatchObject({ code: 0 });
  expect(await crewHere(two, 'copy', copy)).toMatchObject({
    code: 1,
    err: `crew: ${copy} is there already, and is not written over: give another name\n`,
  });
  expect(await crewHere(two, 'copy', path.join(one, 'usb', 'copy'))).toMatchObject({
    code: 1,
    err: `crew: there is no folder ${path.join(one, 'usb')}: make it, or give another place\n`,
  });
  expect((await crewHere(two, 'carry', copy)).out).toContain('carried from now on: 3');
  expect((await crewHere(two, 'status')).out).toContain('carried  3 of other phones, 3 not handed in yet');
  expect((await crewHere(two, 'sync')).out).toContain('handed in 3 records of other phones\n');
  expect((await crewHere(two, 'well', 'W-1')).out).toContain('ph 5.55');
}, 120_000);

it('says what is wrong and what to do, and touches nothing then', async () => {
  const made = await crews.folder();
  const wrong = async (where: string, args: readonly string[], said: string) => {
    expect(await crewHere(where, ...args)).toMatchObject({ code: 1, out: '', err: expect.stringContaining(said) });
  };
  await wrong(made, ['wells'], 'crew join URL TOKEN');
  await wrong(made, ['join', 'http://127.0.0.1:1', 'token'], 'no answer from http://127.0.0.1:1');
  await wrong(made, ['join', crews.url, 'wrt_nobody'], 'ask the office for a new one');
  await wrong(made, ['join', crews.url, await crews.server.token('crew')], 'token is of no device');
  await wrong(made, ['dance'], 'crew help lists them');
  await wrong(made, ['wells', '--colour', 'red'], 'crew help lists the commands');
  const own = await joined(crews.server.firm.ids.otherPhone);
  await wrong(own, ['level', 'W-99', '1.0'], 'known are W-1, W-4D, W-4S');
  await wrong(own, ['level', 'W-1'], 'something is missing: crew level WELL DEPTH');
  await wrong(own, ['level', 'W-1', 'deep'], 'depth to water (ft) is no figure: "deep" was given');
  await wrong(own, ['reading', 'W-1', 'colour=red'], 'no figure of a reading');
  await wrong(own, ['call', 'W-1', 'stable'], 'enter a reading first');
  await wrong(own, ['who', '--reads', 'ZZ'], 'known are AR, BW');
  await wrong(own, ['carry', path.join(own, 'crew.json')], 'no copy of an outbox');
  await wrong(own, ['event', 'No such round'], 'there is no one event "No such round": known are');
  // a choice that was refused is not kept: work goes on
  expect(await crewHere(own, 'wells')).toMatchObject({ code: 0 });
  expect((await crewHere(own, 'status')).out).toContain('unsent   0');
  expect((await crew(own, 'help')).out).toContain('read WELL');
}, 120_000);

it('names damage to its folder, and recovers what was not sent', async () => {
  const made = await joined(crews.server.firm.ids.phone);
  await crewHere(made, 'who', '--writes', 'AR');
  await crewHere(made, 'reading', 'W-1', 'ph=4.44');
  flip(path.join(made, 'journal.ndjson'), 60);
  expect(await crew(made, 'status')).toMatchObject({ code: 1, err: expect.stringContaining('crew recover does that') });
  expect(await crew(made, 'recover')).toMatchObject({ code: 0, out: expect.stringContaining('unsent') });
  expect(await crew(made, 'sync')).toMatchObject({ code: 0 });
  expect((await crewHere(made, 'well', 'W-1')).out).toContain('ph 4.44');
}, 120_000);

it('corrects the record whose number was said, also after another client id has begun to count anew', async () => {
  const { phone } = crews.server.firm.ids;
  const made = await joined(phone);
  await crewHere(made, 'who', '--reads', 'bw', '--writes', 'AR');
  const levelAt = async (well: string, depth: string) => {
    const { out, err } = await crewHere(made, 'level', well, depth);
    return /kept as number (\d+)/.exec(out)?.[1] ?? err;
  };
  const first = await levelAt('W-1', '12.30');
  expect((await crewHere(made, 'sync')).code).toBe(0);
  const device = await openCrew(made, () => {});
  await takeNewIdentity(device.client.context);
  await device.close();
  const second = await levelAt('W-4S', '22.30');
  expect(second).not.toBe(first);
  for (const [number, depth] of [
    [first, '12.30'],
    [second, '22.30'],
  ] as const) {
    const { out } = await crewHere(made, 'correct', number, 'depth=13.00', '--reason', 'misread');
    expect(out).toContain(`depthToWaterFt ${depth} -> 13.00`);
  }
});

it('says whether the server is newer or older than it', async () => {
  const made = await joined(crews.server.firm.ids.phone);
  const real = globalThis.fetch;
  const said = async (by: number) => {
    vi.stubGlobal('fetch', async (...given: Parameters<typeof real>) => {
      const answer = await real(...given);
      const other = `"schemaVersion":${SCHEMA_VERSION + by}`;
      const body = (await answer.text()).replace(`"schemaVersion":${SCHEMA_VERSION}`, other);
      return new Response(body, { status: answer.status, headers: { 'content-type': 'application/json' } });
    });
    return (await crewHere(made, 'sync')).out;
  };
  try {
    expect(await said(1)).toContain('the server is newer than this program');
    expect(await said(-1)).toContain('the server is older than this program');
    expect(await said(0)).not.toContain('than this program');
  } finally {
    vi.unstubAllGlobals();
  }
});
