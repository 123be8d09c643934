import { v7 } from 'uuid';
import { expect, it } from 'vitest';
import { crewHere, crewTyping } from './crew-child.ts';
import { crewServer } from './crew-server.ts';

const ids = { tape: v7(), cell: v7(), compressor: v7() };

const crews = crewServer(async ({ firm }) => {
  const admin = await firm.client('admin');
  const unit = { use: 'shared', ownership: 'owned' };
  const { event, deep, shallow, lone } = firm.ids;
  const plan = {
    criteria: 'epa-region-1-low-stress-rev-4',
    calibration: { set: 'usgs-field-manual' },
    equipment: { partLotsRequired: ['fluid'] },
  };
  await admin.push(
    { kind: 'unit', id: ids.tape, set: { ...unit, type: 'water-level-tape', label: 'Tape 1' } },
    { kind: 'unit', id: ids.cell, set: { ...unit, type: 'flow-cell', label: 'Cell 1' } },
    { kind: 'unit', id: ids.compressor, set: { ...unit, type: 'compressor', label: 'Compressor 1' } },
    { kind: 'event', verb: 'amend', id: event, base: { rev: 1 }, set: { plan } },
    { kind: 'well', verb: 'amend', id: lone, set: { contaminants: ['organics'] } },
    { kind: 'well', verb: 'amend', id: shallow, set: { contaminants: [] } },
    { kind: 'well', verb: 'amend', id: deep, set: { contaminants: [] } },
  );
});

/** Nine steps by their protocol, with lots, and the two soft parts by what is written on them. */
const FULL = ['', 'lot=W1', 'lot=D7', '', 'lot=Q3', 'B-2 lot=L44', 'T-2', '', ''];

it('a morning: meter checked, pump cleaned, one well, a step left open, another well, the pump handed on and back', async () => {
  const { phone, otherPhone, pump } = crews.server.firm.ids;
  const [one, two] = [await crews.afield(phone), await crews.afield(otherPhone)];
  const here = (...args: readonly string[]) => crewHere(one, ...args);
  expect((await here('units')).out).toContain('nothing is signed out to you');
  for (const unit of [['pump', 'a'], ['Meter A'], ['tape', '1']]) {
    expect(await here('take', ...unit)).toMatchObject({
      code: 0,
      out: expect.stringContaining('is with you from now on'),
    });
  }
  expect((await here('take', 'Pump A')).out).toContain('already: nothing more to record');
  expect((await here('meter', 'Meter A')).out).toMatch(/may it be used now .*\? no\n {2}NO {2}pH/);
  const short = await here('check', 'Meter A', 'ph', '7.03');
  expect(short.out).toMatch(
    /missing {3}pH cannot be judged.*\n {10}buffer=4\.01 .*4\.01 \(phthalate-401\).*\n {10}crew void \d+ --reason incomplete/,
  );
  expect(await here('void', 'last', '--reason', 'incomplete')).toMatchObject({ code: 0 });
  const failed = await here('check', 'Meter A', 'ph', '7.35', 'buffer=7', 'temp=20.0', 'lot=B7');
  expect(failed.out).toContain('NOT YET   The last check');
  const passed = await here('check', 'Meter A', 'ph', '7.03', 'buffer=7', 'temp=20.0', 'expires=2020-01-01');
  expect(passed.out).toMatch(/question {2}The standard expired on 2020-01-01.*\npassed {4}pH passes/);
  expect((await here('meter', 'Meter A')).out).toMatch(/ {2}yes pH/);
  const oxygen = await here('check', 'Meter A', 'do', '9.1', 'temp=20');
  expect(oxygen.out).toMatch(/missing .*pressure.*\n {10}.*mmhg= \(or hpa=, inhg=\).*altft=/);
  await here('void', 'last', '--reason', 'incomplete');

  expect((await here('unit', 'Pump A', 'into=W-1')).out).toContain(
    'into W-1: Nothing on record says whether Pump A is clean',
  );
  const stopped = await crewTyping(one, FULL.slice(0, 3), 'decon', 'Pump A');
  expect(stopped.out).toContain('Enter: done, lot=.. (the plan asks for it)');
  expect(stopped.out).toContain('Pump A is being cleaned, and not clean yet: crew decon Pump A goes on here');
  const decon = await crewTyping(one, [...FULL.slice(3), 'Drum 4', 'Drum 3', 'Drum 3'], 'decon', 'Pump A');
  expect(decon.out).toMatch(/that began at .* goes on\n/);
  expect(decon.out).toContain('Into which drum did the water go?');
  expect(decon.out).toContain('no drum "Drum 3" is named in this event yet. Is that its label? Then once more');
  expect(decon.out).toContain('its water is in Drum 3');
  expect(decon.out).toContain('clean     Pump A is clean by its record.');
  expect(decon.out).toContain('Decontaminated 20');
  expect((await here('decon', 'Tape 1', '--done', 'lot=Q3')).out).toContain('Tape 1 is clean by its record');

  const level = await here('level', 'W-1', '12.30');
  expect(level.out).toContain('read with Tape 1, which you signed out');
  const down = await here('set-up', 'W-1', 'Pump A', 'cell=Cell', '1', 'intake=35');
  expect(down).toMatchObject({ code: 0, out: expect.not.stringContaining('question') });
  expect((await here('use', 'W-1', 'Compressor 1')).out).toContain('Compressor 1 is beside the well at W-1');
  expect((await here('reading', 'W-1', 'ph=7.01', 'temp=14.2', 'level=12.4')).out).toContain('read with Meter A');
  const call = await here('call', 'W-1', 'stable');
  expect(call.out).toMatch(/rules {5}not stable yet\n +\S/);
  const sampled = await here('sample', 'W-1', 'N-1', 'VOC,metals');
  expect(sampled).toMatchObject({ code: 0, out: expect.not.stringContaining('is recorded in this event already') });
  const twice = await here('sample', 'W-1', 'N-1', 'VOC,metal');
  expect(twice.out).toContain('question  a sample N-1 is recorded in this event already');
  expect(twice.out).toContain('question  nobody else in this event names metal: the suites here are VOC, metals');
  await here('void', 'last', '--reason', 'typed twice');
  const left = await here('leave', 'W-1', 'sampled');
  expect(left.out).toContain('rules     not stable yet');
  expect(left.out).not.toContain('tonight');
  expect((await here('units')).out).toContain('Pump A was used at W-1 and no complete decon is recorded since');
  expect((await here('unit', 'Pump A', 'into=W-4S')).out).toContain('into W-4S: No. Pump A was used in W-1');

  const open = await crewTyping(one, ['', 'lot=W1', 'skip', 'n', 'n brush lost', 'stop'], 'decon', 'Pump A');
  expect(open.out).toContain('"skip" says nothing here. ');
  expect(open.out).toContain('say why it was left out');
  expect(open.out).toContain('detergent-wash left out, brush lost');
  const again = await here('set-up', 'W-4S', 'Pump A', 'intake=20');
  expect(again).toMatchObject({ code: 0 });
  expect(again.out).toMatch(/question {2}Pump A (came|went) into W-4S/);
  expect((await here('status')).out).toMatch(/now {6}Pump A (came|went) into W-4S/);
  expect((await here('leave', 'W-4S', 'sampled')).out).toContain(
    'tonight   The visit at W-4S ended "sampled" and has no sample',
  );

  const handed = await here('hand', 'pump', 'a', 'to', 'south');
  expect(handed.out).toContain('Pump A goes to South crew; they need not record it again');
  expect(await here('hand', 'Pump A', 'to', 'south')).toMatchObject({
    code: 1,
    err: expect.stringContaining('is not with you'),
  });
  expect((await here('return', 'Meter A')).out).toMatch(/Meter A is back\nkept as number/);
  for (const made of [one, two]) await crews.reconnect(made);
  expect(await here('sync')).toMatchObject({ code: 0, out: expect.not.stringContaining('set aside') });
  await crewHere(two, 'sync');
  const theirs = (await crewHere(two, 'units')).out;
  expect(theirs).toMatch(/^Pump A {2}used; bladder pump, with you since/);
  expect((await crewHere(two, 'return', 'Pump A')).out).toContain('The next crew has to clean it first');
  expect(await crewHere(two, 'sync')).toMatchObject({ code: 0, out: expect.not.stringContaining('conflicts') });
  const { rows } = await crews.server.db.bypass.query(`select state from unit_state where unit = $1`, [pump]);
  expect(rows).toEqual([{ state: 'used' }]);
  expect((await crewHere(two, 'unit', 'Pump A')).out).not.toContain('The server');
}, 180_000);

it('asks whether a unit was given that another crew has by the records, and ends both records of a hand-over', async () => {
  const { phone, otherPhone } = crews.server.firm.ids;
  const [one, two] = [await crews.afield(phone), await crews.afield(otherPhone)];
  await crewHere(one, 'take', 'Pump B');
  await crews.reconnect(one);
  await crewHere(one, 'sync');
  await crews.reconnect(two);
  await crewHere(two, 'sync');
  await crewHere(one, 'hand', 'Pump B', 'to', 'South crew');
  // the other phone has not heard of it
  const taken = await crewHere(two, 'take', 'Pump B');
  expect(taken.out).toContain('question  By the records North crew has Pump B');
  expect(taken.out).toContain('crew hand Pump B to South crew');
  await crewHere(one, 'sync');
  await crewHere(two, 'sync');
  const back = await crewHere(two, 'return', 'Pump B');
  expect(back.out.match(/kept as number/g)).toHaveLength(2);
  expect((await crewHere(two, 'units')).out).not.toContain('Pump B');
}, 120_000);

it('a part is known by what is written on it, and a discarded one is asked about in the hand', async () => {
  const made = await crews.afield(crews.server.firm.ids.phone);
  const part = (...args: readonly string[]) => crewHere(made, 'part', 'Pump B', ...args);
  expect((await part('install', 'B-9')).err).toContain('say what it is with type=');
  expect((await part('install', 'B-9', 'type=bladder', 'lot=L1')).out).toContain(
    'B-9 is new here: a bladder of lot L1',
  );
  expect((await part('keep', 'B-9')).err).toContain('for which well');
  expect((await part('discard', 'b-9')).out).toContain('kept as number');
  expect((await part('install', 'B-9')).out).toContain('question  The bladder B-9 was discarded on');
  expect((await crewHere(made, 'correct', 'last', 'action=removed', '--reason', 'B-8')).out).toContain(
    'installed -> removed',
  );
  await part('install', 'B-9', 'type=hose');
  expect((await part('remove', 'B-9')).err).toMatch(/2 parts are called "B-9" \(bladder .*, hose .*\): add type=/);
  expect((await part('bend', 'B-9')).err).toContain('something is missing behind Pump B');
  const rinsate = await crewHere(made, 'rinsate', 'Pump B', 'RB-1');
  expect(rinsate.err).toContain('say for which suites, crew rinsate Pump B RB-1 VOC');
  expect((await crewHere(made, 'rinsate', 'Pump B', 'RB-1', 'VOC')).out).toContain('is not clean by a decon');
}, 120_000);

it('says what is wrong with a name, a word or a figure, and keeps nothing then', async () => {
  const made = await crews.afield(crews.server.firm.ids.phone);
  const wrong = async (args: readonly string[], said: string) => {
    expect(await crewHere(made, ...args)).toMatchObject({ code: 1, err: expect.stringContaining(said) });
  };
  await wrong(['take', 'Pump', 'Z'], 'known are Cell 1');
  await wrong(['take'], 'something is missing: crew take UNIT');
  await wrong(['take', 'Pump A', 'now'], '"now" means nothing behind Pump A');
  await wrong(['return', 'Cell 1'], 'is not with you: crew take Cell 1');
  await wrong(['set-up', 'W-1', 'Tape 1'], 'no pump: crew use W-1 Tape 1');
  await wrong(['set-up', 'W-1', 'Pump A', 'deep=4'], '"deep=4" means nothing here');
  await wrong(['set-up', 'W-1', 'Pump A', 'intake=deep'], 'intake depth (ft) is no figure');
  await wrong(['use', 'W-1', 'Compressor 1', '--out'], 'no record here says that Compressor 1 is there');
  await wrong(['decon', 'Compressor 1'], 'nothing is recorded for Compressor 1');
  await wrong(['decon', 'Pump A', '--done'], 'step by step, not with one word');
  await wrong(['decon', 'Pump A', 'soap'], 'is no protocol: give one of');
  await wrong(['check', 'Meter A', 'colour', '3'], 'what of Meter A was checked?');
  await wrong(['check', 'Meter A', 'ph', '7.0', 'buffer=8'], 'give 4, 7 or 10');
  await wrong(['check', 'Meter A', 'ph', '10.0', 'buffer=10.01'], 'two buffers are 10.01: give buffer=carbonate-1001');
  await wrong(['check', 'Meter A', 'ph'], 'zobell= electrode= for orp');
  await wrong(['check', 'Meter A', 'ph'], 'what did Meter A show for ph');
  await wrong(['check', 'Meter A', 'ph', '7.0', '7'], '"7" means nothing behind the reading');
  await wrong(['check', 'Tape 1', 'ph', '7.0'], 'Tape 1 is a water level tape, no meter');
  await wrong(['take', 'pump'], 'give the whole name; known are Pump A, Pump B');
  await wrong(['set-up', 'W-1', 'Pump A', 'cell=Cell', '9', 'intake=4'], 'no one unit "Cell 9"');
  await wrong(['level', 'W-1', '-0.35'], 'a figure below zero goes with its name, --depth=-0.35');
  await wrong(['decon', 'Tape 1', '--dnoe'], 'there is no option "--dnoe": known are --folder');
  await wrong(['correct', 'last', 'ph=7', '--reason'], 'something is missing behind --reason');
  await wrong(['sample', 'W-4D', 'N-9', 'VOC'], 'no visit of this crew goes on at W-4D');
  await wrong(['hand', 'Pump A'], 'something is missing: crew hand UNIT to CREW');
  expect((await crewHere(made, 'status')).out).toContain('unsent   0');
  expect((await crewHere(made, 'help')).out).toContain('decon UNIT [PROTOCOL]');
}, 120_000);

it('finds a record by the number that was said after a backup trimmed the outbox', async () => {
  const made = await crews.afield(crews.server.firm.ids.phone);
  const { out } = await crewHere(made, 'level', 'W-4D', '14.10', '--again');
  const number = /kept as number (\d+)/.exec(out)?.[1] ?? '';
  await crews.reconnect(made);
  await crewHere(made, 'sync');
  await crews.server.db.bypass.query('update client set durable = last_mutation');
  await crewHere(made, 'sync');
  await crewHere(made, 'sync');
  expect((await crewHere(made, 'status')).out).toContain('kept     0 records');
  const corrected = await crewHere(made, 'correct', number, 'depth=14.20', '--reason', 'misread');
  expect(corrected.out).toContain('depthToWaterFt 14.10 -> 14.20');
}, 120_000);
