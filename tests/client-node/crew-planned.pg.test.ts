import { v7 } from 'uuid';
import { expect, it } from 'vitest';
import { RestClient } from '../doors/rest/rest-client.ts';
import { crewHere } from './crew-child.ts';
import { crewServer } from './crew-server.ts';

/** Two bottles each: a sample at W-1, its blind duplicate, and a sample at W-4D. */
const crews = crewServer(async ({ firm }) => {
  const admin = await firm.client('admin');
  const { event, lone, deep } = firm.ids;
  const parts = { group: 'volatiles', suite: 'VOC', type: 'vial', material: 'glass', volumeMl: '40' };
  const of = v7();
  const all = [
    { id: of, number: 'W-201', well: lone, type: 'normal' },
    { id: v7(), number: 'W-202', well: lone, type: 'blind-duplicate', of },
    { id: v7(), number: 'W-301', well: deep, type: 'normal' },
  ];
  const planned = all.flatMap(({ id, ...set }) => [
    { kind: 'planned-sample', id, set: { event, suites: ['VOC'], standing: 'planned', ...set } },
    ...[1, 2].map((nth) => {
      const own = { planned: id, label: `${set.number}-${nth}`, preservatives: ['hydrochloric-acid'] };
      return { kind: 'container', set: { event, standing: 'expected', ...parts, ...own } };
    }),
  ]);
  const outcomes = await admin.push(...planned);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
});

it('fills the bottles of a planned sample and of its blind duplicate, each for its own, and counts each number once', async () => {
  const { phone, event } = crews.server.firm.ids;
  const one = await crews.afield(phone);
  const here = (...args: readonly string[]) => crewHere(one, ...args);
  await here('reading', 'W-1', 'ph=7.10');
  await here('call', 'W-1', 'stable');
  expect((await here('fill', 'W-1', 'W-202-1')).err).toContain('crew sample WELL W-202 first');
  const blind = await here('sample', 'W-1', 'w-202');
  expect(blind).toMatchObject({
    code: 0,
    out: expect.stringContaining('is a blind duplicate, and no time was made up'),
  });
  const number = /crew correct (\d+) laboratoryTime=/.exec(blind.out)?.[1] ?? '';
  expect((await here('bottles', 'W-1')).out).toContain('W-202 is a blind duplicate');
  expect(await here('correct', number, 'laboratoryTime=09:40', '--reason', 'made up')).toMatchObject({ code: 0 });
  expect((await here('bottles', 'W-1')).out).not.toContain('blind duplicate');
  expect((await here('sample', 'W-1', 'W-201')).out).not.toContain('nobody else');
  for (const label of ['W-201-1', 'W-202-1', 'W-201-2', 'W-202-2'])
    expect(await here('fill', 'W-1', label, 'flow=90')).toMatchObject({ code: 0, err: '' });
  expect((await here('sample', 'W-1', 'W-999')).err).toContain('for which suites W-999 is taken is not planned');
  expect((await here('sample', 'W-1', 'W-301', 'VOC')).out).toContain('W-301 is planned for W-4D: is that the number');
  await crews.reconnect(one);
  expect(await here('sync')).toMatchObject({ code: 0 });
  const rest = new RestClient(crews.server, await crews.server.token('crew', phone));
  const { wells } = (await rest.get(`/events/${event}/completeness`)).body;
  const told = wells.find((one: { name: string }) => one.name === 'W-1').samples;
  expect(told.filter(({ number }: { number: string }) => /W-20/.test(number))).toMatchObject([
    { number: 'W-201', type: 'normal', suites: [{ suite: 'VOC', expected: 2, collected: 2 }] },
    { number: 'W-202', type: 'blind-duplicate', suites: [{ suite: 'VOC', expected: 2, collected: 2 }] },
  ]);
  const list = (await rest.get(`/samples?limit=200`)).body.items as { id: string; fields: Record<string, unknown> }[];
  const numbered = (number: string) => list.find(({ fields }) => fields.number === number);
  expect(numbered('W-202')?.fields.of).toBe(numbered('W-201')?.id);
}, 120_000);

it('asks before a bottle of another well is filled, and keeps nothing until it is meant', async () => {
  const one = await crews.afield(crews.server.firm.ids.otherPhone);
  const here = (...args: readonly string[]) => crewHere(one, ...args);
  await here('reading', 'W-4S', 'ph=7.10');
  await here('call', 'W-4S', 'stable');
  await here('sample', 'W-4S', 'W-401', 'VOC');
  const slip = await here('fill', 'W-4S', 'W-301-1');
  expect(slip).toMatchObject({
    code: 1,
    err: expect.stringContaining('W-301-1 is labelled for W-4D, and this is W-4S'),
  });
  expect(slip.err).toContain('add --anyway');
  const meant = await here('fill', 'W-4S', 'W-301-1', '--anyway');
  expect(meant).toMatchObject({ code: 0 });
  expect(meant.out).toContain('question  W-301-1 is labelled for W-301, and holds water of W-401');
}, 120_000);

it('shows the labels of the well, where one is mistyped', async () => {
  const one = await crews.afield(crews.server.firm.ids.phone);
  await crewHere(one, 'reading', 'W-4D', 'ph=7.10');
  const { err } = await crewHere(one, 'fill', 'W-4D', 'X-9');
  expect(err).toContain('nearest are W-301-1, W-301-2');
  expect(err).not.toContain('W-201-1');
}, 120_000);
