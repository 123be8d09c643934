import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';
import type { Draft } from '../../support/test-firm.ts';
import { minute, readingDraft, visitDrafts } from '../../support/visit-drafts.ts';
import { ask } from './ask.ts';

interface List {
  readonly totalCount: number;
  readonly pageInfo: {
    readonly hasNextPage: boolean;
    readonly hasPreviousPage: boolean;
    readonly startCursor: string | null;
    readonly endCursor: string | null;
  };
  readonly edges: readonly { readonly cursor: string; readonly node: { readonly id: string; readonly ph?: string } }[];
}

let t: TestApp;
let token: string;
const purges = { one: '', two: '' };
/** In the order in which they were observed, which is not the one in which they were made. */
const readings: string[] = [];

beforeAll(async () => {
  t = await testApp();
  token = await t.token('coordinator');
  const office = await t.firm.client('coordinator');
  const { ids, drafts } = visitDrafts(t.firm);
  const second = v7();
  purges.one = ids.purge;
  purges.two = second;
  // two at one moment, and one typed in the evening that belongs between the others
  const minutes = [0, 5, 10, 10, 15, 20, 25];
  const made = minutes.map((at, index): Draft => readingDraft(t.firm, ids.purge, at, { ph: `7.${index}` }));
  const late = [6, 0, 5, 1, 4, 2, 3].flatMap((index) => made[index] ?? []);
  await office.push(...drafts, { kind: 'purge', id: second, set: { visit: ids.visit, began: minute(60) } }, ...late);
  await office.push(...[61, 62].map((at) => readingDraft(t.firm, second, at)));
  const keyed = made.map(({ id = '' }, index) => [minutes[index] ?? 0, id] as const);
  readings.push(...keyed.toSorted((a, b) => a[0] - b[0] || (a[1] < b[1] ? -1 : 1)).map(([, id]) => id));
}, 60_000);
afterAll(() => t.close());

const FIELDS = 'totalCount pageInfo{hasNextPage hasPreviousPage startCursor endCursor} edges{cursor node{id ph}}';

async function page(args: string, more = ''): Promise<List> {
  const query = `{purge(id:"${purges.one}"){readings(${args}){${FIELDS}}} ${more}}`;
  const { data, errors } = await ask<{ purge: { readings: List } }>(t, token, query);
  expect(errors).toEqual([]);
  return data.purge.readings;
}

const idsOf = (list: List) => list.edges.map(({ node }) => node.id);

describe('a list', () => {
  it.each([1, 2, 3, 7, 50])('is read whole by pages of %i, each record once and in order', async (size) => {
    const seen: string[] = [];
    let after = '';
    for (let pages = 0; pages < 10; pages++) {
      const list = await page(`first:${size}${after}`);
      expect(list.totalCount).toBe(readings.length);
      expect(list.pageInfo.hasPreviousPage).toBe(pages > 0);
      seen.push(...idsOf(list));
      if (!list.pageInfo.hasNextPage) break;
      expect(list.edges).toHaveLength(size);
      after = ` after:"${list.pageInfo.endCursor}"`;
    }
    expect(seen).toEqual(readings);
  });

  it.each([1, 2, 3, 7, 50])('is read from its end by pages of %i', async (size) => {
    const seen: string[] = [];
    let before = '';
    for (let pages = 0; pages < 10; pages++) {
      const list = await page(`last:${size}${before}`);
      expect(list.pageInfo.hasNextPage).toBe(pages > 0);
      seen.unshift(...idsOf(list));
      if (!list.pageInfo.hasPreviousPage) break;
      before = ` before:"${list.pageInfo.startCursor}"`;
    }
    expect(seen).toEqual(readings);
  });

  it('gives what lies between two places', async () => {
    const { edges } = await page('first:50');
    const list = await page(`first:50 after:"${edges[1]?.cursor}" before:"${edges[5]?.cursor}"`);
    expect(idsOf(list)).toEqual(readings.slice(2, 5));
  });

  it('under several parents at once is cut for each of them, and counted for each', async () => {
    const query = `{visits{nodes{purges{nodes{id readings(first:2){${FIELDS}}}}}}}`;
    type Visit = { purges: { nodes: { id: string; readings: List }[] } };
    const { data } = await ask<{ visits: { nodes: Visit[] } }>(t, token, query);
    const lists = data.visits.nodes[0]?.purges.nodes.map(({ id, readings: list }) => [
      id,
      list.edges.length,
      list.totalCount,
    ]);
    expect(lists).toEqual([
      [purges.one, 2, readings.length],
      [purges.two, 2, 2],
    ]);
  });

  it('asked for twice with other arguments gives two answers', async () => {
    const query = `{purge(id:"${purges.one}"){a:readings(first:1){edges{node{id}}} b:readings(last:1){edges{node{id}}}
      c:readings(first:1){edges{node{id ph}}}}}`;
    type Lists = Record<'a' | 'b' | 'c', List>;
    const { data } = await ask<{ purge: Lists }>(t, token, query);
    const { a, b, c } = data.purge;
    expect([idsOf(a), idsOf(b), idsOf(c)]).toEqual([[readings[0]], [readings.at(-1)], [readings[0]]]);
  });

  it('of nothing is empty', async () => {
    const query = `{unit(id:"${t.firm.ids.pump}"){signOuts{${FIELDS.replace(' ph', '')}}}}`;
    const { data } = await ask<{ unit: { signOuts: List } }>(t, token, query);
    expect(data.unit.signOuts).toMatchObject({
      totalCount: 0,
      edges: [],
      pageInfo: { startCursor: null, hasNextPage: false },
    });
  });

  it('leaves out what was voided unless it is asked for, and is narrowed by what records name', async () => {
    const office = await t.firm.client('coordinator');
    const draft = readingDraft(t.firm, purges.two, 70, { meter: t.firm.ids.otherMeter });
    await office.push(draft);
    const count = async (where: string) => {
      const { data, errors } = await ask<{ readings: List }>(t, token, `{readings(where:{${where}}){totalCount}}`);
      expect(errors).toEqual([]);
      return data.readings.totalCount;
    };
    expect(await count(`meter:"${t.firm.ids.otherMeter}"`)).toBe(1);
    expect(await count(`meter:"${t.firm.ids.otherMeter}" purge:"${purges.one}"`)).toBe(0);
    const voided = { verb: 'void', kind: 'reading', id: draft.id ?? '', base: { rev: 1 }, reason: 'typed twice' };
    await office.push(voided);
    expect(await count(`meter:"${t.firm.ids.otherMeter}"`)).toBe(0);
    expect(await count(`meter:"${t.firm.ids.otherMeter}" includeVoided:true`)).toBe(1);
    const { data, errors } = await ask<{ visits: List; wells: List }>(
      t,
      token,
      '{visits(where:{method:LOW_FLOW}){totalCount} wells(where:{standing:DECOMMISSIONED}){totalCount}}',
    );
    expect(errors).toEqual([]);
    expect([data.visits.totalCount, data.wells.totalCount]).toEqual([1, 0]);
  });

  it('of all records of a kind pages as well, by name where they have one', async () => {
    const names: string[] = [];
    let after = '';
    for (let pages = 0; pages < 9; pages++) {
      const query = `{wells(first:1${after}){pageInfo{hasNextPage endCursor} nodes{name}}}`;
      type Wells = { wells: { pageInfo: List['pageInfo']; nodes: { name: string }[] } };
      const { wells } = (await ask<Wells>(t, token, query)).data;
      names.push(...wells.nodes.map(({ name }) => name));
      if (!wells.pageInfo.hasNextPage) break;
      after = ` after:"${wells.pageInfo.endCursor}"`;
    }
    expect(names).toEqual(['W-1', 'W-4D', 'W-4S']);
  });

  it.each([
    ['first:0', /first was 0/],
    ['first:-5', /first was -5/],
    ['first:201', /listPageItems 200/],
    ['last:0', /last was 0/],
    ['first:1 last:1', /first and last/],
    ['first:1 after:"nonsense"', /after: no cursor/],
    ['first:1 after:"WyJyZWFkaW5nIiwib2JzZXJ2ZWRfYXQiLCInOyBkcm9wIiwieCJd"', /after: no cursor/],
    ['where:{meter:"x"}', /meter: "x" is no id/],
  ])('(%s) that cannot be given says why', async (args, why) => {
    const query = `{purge(id:"${purges.one}"){readings(${args}){totalCount}}}`;
    const { errors } = await ask(t, token, query);
    expect(errors[0]).toMatchObject({ message: expect.stringMatching(why), extensions: { code: 'bad_request' } });
  });

  it('takes no cursor of another list', async () => {
    const { data } = await ask<{ wells: List }>(t, token, '{wells(first:1){pageInfo{endCursor}}}');
    const query = `{crews(first:1 after:"${data.wells.pageInfo.endCursor}"){totalCount}}`;
    expect((await ask(t, token, query)).errors[0]?.extensions.code).toBe('bad_request');
  });
});
