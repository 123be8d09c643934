import { v7 } from 'uuid';
import { expect, it } from 'vitest';
import { RestClient } from '../doors/rest/rest-client.ts';
import { crewHere } from './crew-child.ts';
import { crewServer } from './crew-server.ts';

const crews = crewServer(async ({ firm }) => {
  const admin = await firm.client('admin');
  const { event, lone: well } = firm.ids;
  const planned = v7();
  const of = { event, planned, standing: 'expected' };
  const vial = { ...of, group: 'volatiles', suite: 'VOC', type: 'vial', material: 'glass', volumeMl: '40' };
  const acid = { preservatives: ['hydrochloric-acid'] };
  const litre = { type: 'bottle', material: 'glass', colour: 'amber', preservatives: [], volumeMl: '1000' };
  const metals = { type: 'bottle', material: 'hdpe', preservatives: ['nitric-acid'], volumeMl: '500' };
  const set = { event, number: 'W-101', type: 'normal', well, suites: ['VOC', 'SVOC', 'Metals'], standing: 'planned' };
  const outcomes = await admin.push(
    { kind: 'planned-sample', id: planned, set },
    { kind: 'container', set: { ...of, group: 'metals-total', suite: 'Metals', ...metals, label: 'W-101-4' } },
    { kind: 'container', set: { ...of, group: 'semivolatiles', suite: 'SVOC', ...litre, label: 'W-101-3' } },
    { kind: 'container', set: { ...vial, ...acid, label: 'W-101-1' } },
    { kind: 'container', set: { ...vial, ...acid, label: 'W-101-2' } },
  );
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
});

it('says what is wrong with a word, and keeps nothing then', async () => {
  const one = await crews.afield(crews.server.firm.ids.phone);
  const here = (...args: readonly string[]) => crewHere(one, ...args);
  await here('reading', 'W-1', 'ph=7.10');
  await here('sample', 'W-1', 'W-101', 'VOC');
  expect((await here('fill', 'W-1', 'W-101-1', 'cell=away')).err).toContain('cell=off or cell=on');
  expect((await here('fill', 'W-1', 'W-101-1', 'bubble=some')).err).toContain('bubble=yes or bubble=no');
  expect((await here('fill', 'W-1', 'W-101-1', 'ph=sour')).code).toBe(1);
  expect((await here('fill', 'W-1', 'W-999')).err).toContain('there is no one container "W-999"');
  expect((await here('bottle', 'W-1', 'W-101-9', 'unheard-of')).err).toContain('no group "unheard-of"');
  expect((await here('bottle', 'W-1', 'W-101-9')).err).toContain('something is missing');
  expect((await here('short', 'W-1', 'much')).err).toContain('is no water');
  expect((await here('short', 'W-1', '-5')).err).toContain('is no water: give millilitres');
  expect((await here('bottles', 'W-4S')).err).toContain('no visit of this crew at W-4S');
  expect((await here('bottles', 'W-1')).out).toContain('0 full, 4 to fill');
});

it('fills what was planned for the well one after the other, throws a vial away, and drops what no water is left for', async () => {
  const one = await crews.afield(crews.server.firm.ids.phone);
  const here = (...args: readonly string[]) => crewHere(one, ...args);
  await here('reading', 'W-1', 'ph=7.10', 'flow=200');
  const planned = await here('bottles', 'W-1');
  expect(planned.out).toMatch(/NEXT {5}W-101-1 .*40 mL, unfiltered, hydrochloric acid, no air, 24 s at 100 mL\/min/);
  expect(planned.out).toMatch(
    /waits {4}W-101-3 .*300 s at 200 mL\/min[\s\S]*0 full, 4 to fill \(1580 mL, about 9 min\)/,
  );
  expect(planned.out).toContain('Nobody has called the purge stable');

  expect((await here('fill', 'W-1', 'next')).err).toContain('crew sample WELL W-101 first');
  await here('call', 'W-1', 'stable');
  await here('sample', 'W-1', 'W-101', 'VOC,SVOC,Metals');
  const first = await here('fill', 'W-1', 'next', 'flow=90', 'cell=off', 'bubble=yes', 'filtered=no');
  expect(first).toMatchObject({ code: 0 });
  expect(first.out).toMatch(/W-101-1: volatiles\nkept as number \d+ .*\nquestion {2}A bubble in W-101-1/);
  expect((await here('discard', 'W-101-1', '--reason', 'a bubble')).out).toContain('answered  A bubble in W-101-1');
  expect(await here('bottle', 'W-1', 'W-101-5', 'like=W-101-2')).toMatchObject({ code: 0 });
  expect((await here('fill', 'W-1', 'w-101-5', 'flow=90', 'cell=off', 'bubble=no')).out).not.toContain('question');
  expect((await here('fill', 'W-1', 'W-101-2', 'flow=300', 'cell=on')).out).toContain('100 mL/min at most');

  const short = await here('short', 'W-1', '600');
  expect(short.out).toMatch(/fill 500 of 500 mL +W-101-4 [\s\S]*DROP +W-101-3 [\s\S]*agree {4}Whoever ordered/);
  expect((await here('drop', 'W-101-3')).err).toContain('say why: crew drop LABEL');
  const dropped = await here('drop', 'W-101-3', 'agreed=R.', 'Ito', '--reason', 'the well went dry');
  expect(dropped).toMatchObject({ code: 0 });
  expect((await here('fill', 'W-1', 'next', 'ph=3')).out).toMatch(/W-101-4: metals-total[\s\S]*pH 3 by strip/);
  const done = await here('bottles', 'W-1');
  expect(done.out).toMatch(
    /thrown {3}W-101-1 [\s\S]*full {5}W-101-2 [\s\S]*dropped {2}W-101-3 [\s\S]*3 full, 0 to fill/,
  );
  expect((await here('fill', 'W-1', 'next')).err).toContain('no container of this visit waits');

  // a slip of the label is asked about, and kept
  expect((await here('fill', 'W-1', 'W-101-2')).out).toContain('question  W-101-2 is full already');
  expect((await here('fill', 'W-1', 'W-101-1')).out).toContain('question  W-101-1 was thrown away');
  expect((await here('fill', 'W-1', 'W-101-3')).out).toContain('W-101-3 was left out (the well went dry)');
  await here('bottle', 'W-1', 'W-101-6', 'like=W-101-2');
  expect((await here('discard', 'W-101-6', '--reason', 'slip')).out).toContain('no fill of W-101-6 is here');
  expect((await here('discard', 'W-101-2', '--reason', 'slip')).out).not.toContain('no fill of');
  await crews.reconnect(one);
  expect(await here('sync')).toMatchObject({ code: 0 });
  const rest = new RestClient(crews.server, await crews.server.token('coordinator'));
  const all = (await rest.get('/containers?limit=200')).body.items as { fields: Record<string, unknown> }[];
  const refilled = all.find(({ fields }) => fields.label === 'W-101-3')?.fields;
  expect([refilled?.standing, refilled?.agreedBy ?? null, refilled?.droppedBecause ?? null]).toEqual([
    'filled',
    null,
    null,
  ]);
});
