import { v7 } from 'uuid';
import { expect, it } from 'vitest';
import { LocalError } from '../../src/client/local-error.ts';
import { inPlainWords } from '../../src/client-node/crew/plain-words.ts';
import { crewHere, Typist } from './crew-child.ts';
import { crewServer } from './crew-server.ts';

const crews = crewServer(async ({ firm }) => {
  const admin = await firm.client('admin');
  const { lone, shallow } = firm.ids;
  await admin.push(
    { kind: 'well-alias', set: { well: lone, name: 'OW-7' } },
    { kind: 'well', verb: 'amend', id: shallow, set: { depthsFrom: 'ground', stickUpFt: '2.1' } },
  );
});
const afield = (device: string) => crews.afield(device);

const READING = ['temp=12.1', 'sc=510', 'do=2.10', 'orp=110', 'ntu=3.1', 'flow=200', 'level=21.4'];

it('asks at a mistyped value before it is sent, keeps it, and takes the correction and the void of own records', async () => {
  const made = await afield(crews.server.firm.ids.phone);
  const first = await crewHere(made, 'level', 'W-1', '12.30');
  expect(first.out).toContain('a visit begins at W-1 (gauging)');
  expect(first.out).toContain('taken as a level for: synoptic');
  await crewHere(made, 'reading', 'W-1', 'ph=7.01', ...READING);
  const slip = await crewHere(made, 'reading', 'W-1', 'ph=71.0', ...READING);
  expect(slip).toMatchObject({ code: 0 });
  expect(slip.out).toMatch(/kept as number 6 .*\nquestion {2}Hard to believe: pH 71\.0/);
  expect(slip.out).toContain('if it was a slip: crew correct 6 ...');
  const quiet = await crewHere(made, 'reading', 'W-1', 'ph=7.02', ...READING);
  expect(quiet.out).not.toContain('Hard to believe');
  expect(await crewHere(made, 'correct', '6', 'ph=7.10')).toMatchObject({
    code: 1,
    err: expect.stringContaining('say why'),
  });
  const mended = await crewHere(made, 'correct', '6', 'ph=7.10', '--reason', 'comma forgotten');
  expect(mended.out).toContain('ph 71.0 -> 7.10');
  expect(mended.out).toContain('answered  Hard to believe');
  await crewHere(made, 'level', 'W-1', '12.50');
  expect(await crewHere(made, 'void', 'last', '--reason', 'entered twice')).toMatchObject({ code: 0 });
  expect((await crewHere(made, 'void', 'last', '--reason', 'again')).err).toContain('is void already: entered twice');
  expect((await crewHere(made, 'correct', '6', 'colour=red', '--reason', 'x')).err).toContain(
    'a reading has no "colour"',
  );
  expect((await crewHere(made, 'correct', '99', 'ph=7', '--reason', 'x')).err).toContain('no record "99" here');
  const shown = (await crewHere(made, 'well', 'W-1')).out;
  const ref = /reading {2}.*ph 7\.02.* {2}(#[0-9a-f]{6})/.exec(shown)?.[1] ?? '';
  expect((await crewHere(made, 'correct', ref, 'ph=7.03', '--reason', 'read again')).out).toContain('ph 7.02 -> 7.03');
  await crews.reconnect(made);
  expect(await crewHere(made, 'sync')).toMatchObject({ code: 0 });
  const { rows } = await crews.server.db.bypass.query(
    `select r.ph::text from reading r where not r.voided order by r.id`,
  );
  expect(rows.map(({ ph }) => ph)).toEqual(['7.01', '7.10', '7.03']);
}, 120_000);

it('says in its status whether the water is stable and what is missing, without a server', async () => {
  const made = await afield(crews.server.firm.ids.phone);
  await crewHere(made, 'reading', 'W-4D', 'ph=7.01', ...READING);
  const status = await crewHere(made, 'status');
  expect(status.out).toMatch(/W-4D {5}not stable yet\n +\S/);
  expect(status.out).toContain('tonight  The purge of W-4D began');
  const level = await crewHere(made, 'level', 'W-4D', '12.4');
  expect(level.out).toContain('taken as a level for: pumping');
}, 120_000);

it('takes a level at a low-flow visit for one before the purge, finds a well by its other name, and says what depths are', async () => {
  const made = await afield(crews.server.firm.ids.otherPhone);
  const wells = (await crewHere(made, 'wells')).out;
  expect(wells).toContain('40 ft below the measuring point; also called OW-7');
  expect(wells).toContain('25.3 ft below ground, 27.4 ft below the measuring point');
  const reading = await crewHere(made, 'reading', 'ow-7', 'ph=7.01');
  expect(reading.out).toContain('ow-7 is W-1 here');
  await crewHere(made, 'void', 'last', '--reason', 'a try');
  expect((await crewHere(made, 'level', 'W-1', '12.4')).out).toContain('taken as a level for: before-purge');
}, 120_000);

it('does not begin a second visit at a well that was left unless that is meant', async () => {
  const made = await afield(crews.server.firm.ids.otherPhone);
  await crewHere(made, 'reading', 'W-4S', 'ph=7.01');
  await crewHere(made, 'leave', 'W-4S', 'sampled');
  const refused = await crewHere(made, 'reading', 'W-4S', 'ph=7.02');
  expect(refused).toMatchObject({ code: 1, err: expect.stringContaining('has ended (sampled, left at') });
  expect(refused.err).toContain('--again');
  const again = await crewHere(made, 'reading', 'W-4S', 'ph=7.02', '--again');
  expect(again.out).toContain('a further visit begins at W-4S (low-flow)');
  const lone = await afield(crews.server.firm.ids.otherPhone);
  await crewHere(lone, 'level', 'W-1', '12.0');
  await crewHere(lone, 'leave', 'W-1', 'gauged-only');
  // a round of levels is followed by the sampling as a matter of course
  expect((await crewHere(lone, 'reading', 'W-1', 'ph=7.0')).out).toContain('a further visit begins at W-1');
}, 120_000);

it('says beforehand that the decision of a crew is set aside, and sends it only when that is meant', async () => {
  const made = await afield(crews.server.firm.ids.phone);
  const { event, lone, north } = crews.server.firm.ids;
  const admin = await crews.server.firm.client('admin');
  const id = v7();
  const set = { event, well: lone, crew: north, method: 'gauging', arrived: '2026-05-04T09:00:00-05:00' };
  const before = { was: { outcome: null } };
  await admin.push({ kind: 'visit', id, set });
  await admin.push({ kind: 'visit', verb: 'amend', id, base: before, set: { outcome: 'dry' } });
  const office = await crews.server.firm.client('coordinator');
  await office.push({ kind: 'visit', verb: 'amend', id, base: before, set: { outcome: 'frozen' } });
  await crews.reconnect(made);
  await crewHere(made, 'sync');
  const listed = (await crewHere(made, 'conflicts')).out;
  expect(listed).toContain('a coordinator decides, and this device is of a crew');
  const sign = /conflict (#[0-9a-f]{6}): .*\n {2}1\) frozen/.exec(listed)?.[1] ?? '';
  expect((await crewHere(made, 'resolve', '7', '1')).err).toContain('give the sign behind #');
  const said = await crewHere(made, 'resolve', sign, '1');
  expect(said).toMatchObject({ code: 1, err: expect.stringContaining('it would set yours aside') });
  expect((await crewHere(made, 'status')).out).toContain('unsent   0');
  expect(await crewHere(made, 'resolve', sign.slice(1), '1', '--anyway')).toMatchObject({ code: 0 });
  // it will be set aside: the conflict goes on being asked about
  expect((await crewHere(made, 'conflicts')).out).toContain('1) frozen');
  expect((await crewHere(made, 'sync')).out).toContain('1 set aside or refused');
  expect((await crewHere(made, 'status')).out).toMatch(/number \d+, resolve conflict: set aside/);
  const { rows } = await crews.server.db.bypass.query(`select id from set_aside where standing <> 'released'`);
  await office.push({ verb: 'release', kind: 'set-aside', id: rows[0]?.id });
  const heard = await crewHere(made, 'sync');
  expect(heard.out).toMatch(/number \d+, resolve conflict, was set aside: released, it counts now/);
  const status = (await crewHere(made, 'status')).out;
  expect(status).not.toContain(': set aside');
  expect(status).toContain('resolve conflict: was set aside, released since');
}, 120_000);

it('takes corrections in the reading mode, and names all that is missing before the first record', async () => {
  const made = await afield(crews.server.firm.ids.phone);
  const typist = new Typist(made, 'W-4S');
  await typist.waitFor('W-4S> ');
  typist.type('ph=70.1 temp=14.0\n');
  await typist.waitFor('question  Hard to believe');
  typist.type('correct ph=7.01 comma\n');
  await typist.waitFor('answered  Hard to believe');
  typist.type('ph=wet\n');
  await typist.waitFor('not kept: pH is no figure: "wet" was given');
  await typist.end();
  const alone = await crews.folder();
  const phone = v7();
  const admin = await crews.server.firm.client('admin');
  await admin.push({ kind: 'device', id: phone, set: { label: 'Spare' } });
  await crewHere(alone, 'join', crews.url, await crews.server.token('crew', phone));
  const refused = await crewHere(alone, 'reading', 'W-1', 'ph=7');
  expect(refused.err).toContain('nothing can be recorded yet:');
  expect(refused.err.split('\n').length).toBeGreaterThan(3);
}, 120_000);

it('says in plain words what cannot be kept, all of it at once', () => {
  const message =
    'visit.method is missing: one of "low-flow" is expected; visit.left is no instant (given: "noon"); visit.outcome cannot be read: one of "sampled" is expected (given: "wet"). Correct it and try again.';
  expect(inPlainWords(new LocalError('unreadable_fields', message))).toBe(
    'not kept: method is missing; left: "noon" cannot stand there (is no instant); ' +
      'outcome: "wet" cannot stand there (one of "sampled" is expected)',
  );
  expect(inPlainWords(new LocalError('nobody_here', 'nobody is here'))).toBe('nobody is here');
});
