import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { camel, pascal } from '../../../src/doors/graphql/type-names.ts';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import { RELATIONS } from '../../../src/store/read/record-relations.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { TestFirm } from '../../support/test-firm.ts';
import { minute, purgeDrafts, visitDrafts } from '../../support/visit-drafts.ts';
import { ask } from './ask.ts';

let t: TestApp;
let other: TestFirm;
let followed: Readonly<Record<string, string>>;
/** An event of another site, that the north crew has nothing to do with. */
const apart = { site: v7(), well: v7(), event: v7(), visit: v7() };

beforeAll(async () => {
  t = await testApp();
  const { firm } = t;
  const office = await firm.client('coordinator');
  const { ids, drafts } = purgeDrafts(firm, { outcome: 'sampled' });
  followed = { ...ids, event: firm.ids.event, site: firm.ids.site, well: firm.ids.lone };
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { name: 'Far round', site: apart.site, starts: '2026-05-04', ends: '2026-05-05', standing: 'open', plan };
  await office.push(
    ...drafts,
    { kind: 'site', id: apart.site, set: { name: 'Far Depot', timeZone: 'America/Chicago' } },
    {
      kind: 'well',
      id: apart.well,
      set: { site: apart.site, name: 'F-1', standing: 'in-service', depthsFrom: 'ground' },
    },
    { kind: 'event', id: apart.event, set },
    { kind: 'assignment', set: { event: apart.event, crew: firm.ids.south, well: apart.well } },
    ...visitDrafts(firm, { event: apart.event, well: apart.well, crew: firm.ids.south })
      .drafts.slice(0, 1)
      .map((draft) => ({ ...draft, id: apart.visit })),
  );
  other = new TestFirm(t.db.pool);
  await other.setUp();
}, 60_000);
afterAll(() => t.close());

const lists = () => KINDS.map((kind) => `${camel(kind.plural)}(first:150){nodes{id feed kind}}`).join(' ');
type Lists = Record<string, { nodes: { id: string; feed: string; kind: string }[] }>;

async function everything(token: string) {
  const { data, errors } = await ask<Lists>(t, token, `{${lists()}}`);
  expect(errors).toEqual([]);
  return Object.values(data).flatMap(({ nodes }) => nodes);
}

async function node(token: string, id: string) {
  const { data, errors } = await ask<{ node: { id: string } | null }>(t, token, `{node(id:"${id}"){id}}`);
  expect(errors).toEqual([]);
  return data.node;
}

describe('who asks', () => {
  it('shows a token that is known', async () => {
    const post = async (headers: Record<string, string>) => {
      const response = await t.app.inject({
        method: 'POST',
        url: '/graphql',
        headers,
        payload: { query: '{__schema{types{name}}}' },
      });
      return [response.statusCode, response.json().errors[0].extensions.code, response.headers['www-authenticate']];
    };
    expect(await post({})).toEqual([401, 'unauthenticated', 'Bearer']);
    expect(await post({ authorization: 'Bearer wrt_nobody' })).toEqual([401, 'unauthenticated', 'Bearer']);
  });

  it.each(['coordinator', 'dashboard', 'admin'] as const)('as %s sees all of the firm', async (role) => {
    const records = await everything(await t.token(role));
    const ids = new Set(records.map(({ id }) => id));
    expect([...Object.values(followed), ...Object.values(apart)].filter((id) => !ids.has(id))).toEqual([]);
    expect(Object.values(other.ids).filter((id) => ids.has(id))).toEqual([]);
  });

  it('as a crew sees what it follows and nothing else, however it asks', async () => {
    const token = await t.token('crew', t.firm.ids.phone);
    const records = await everything(token);
    const feeds = new Set(records.map(({ feed }) => feed));
    expect(feeds).toEqual(new Set(['firm', `site:${t.firm.ids.site}`, `event:${t.firm.ids.event}`]));
    for (const id of Object.values(followed)) expect(await node(token, id)).toEqual({ id });
    for (const id of Object.values(apart)) expect(await node(token, id)).toBeNull();
    const { data } = await ask<{ nodes: unknown[]; event: unknown }>(
      t,
      token,
      `{nodes(ids:["${apart.visit}","${followed.visit}"]){id} event(id:"${apart.event}"){status{totals{visits}}}}`,
    );
    expect(data).toEqual({ nodes: [null, { id: followed.visit }], event: null });
  });

  it('as a crew sees nothing of what it does not follow through what it does', async () => {
    const token = await t.token('crew', t.firm.ids.phone);
    const query = `{crew(id:"${t.firm.ids.south}"){assignments{totalCount nodes{event{name} well{name}}}}
      visits(where:{event:"${apart.event}"}){totalCount nodes{id}}
      events{totalCount nodes{name}}}`;
    type Seen = Record<'crew', { assignments: { totalCount: number; nodes: object[] } }> &
      Record<'visits' | 'events', { totalCount: number; nodes: object[] }>;
    const { data } = await ask<Seen>(t, token, query);
    expect(data.crew.assignments).toEqual({
      totalCount: 1,
      nodes: [{ event: { name: 'Spring round' }, well: { name: 'W-4S' } }],
    });
    expect(data.visits).toEqual({ totalCount: 0, nodes: [] });
    expect(data.events).toEqual({ totalCount: 1, nodes: [{ name: 'Spring round' }] });
  });

  it('as a crew without a device or an assignment sees the firm alone', async () => {
    for (const device of [null, v7()]) {
      const records = await everything(await t.token('crew', device));
      expect(new Set(records.map(({ feed }) => feed))).toEqual(new Set(['firm']));
    }
  });

  it('of another firm sees nothing of this one, under any id and through any list', async () => {
    const token = await t.token('admin', null, other);
    const mine = (await everything(await t.token('admin'))).map(({ id }) => id);
    const theirs = new Set((await everything(token)).map(({ id }) => id));
    expect(mine.filter((id) => theirs.has(id))).toEqual([]);
    const found = await ask<{ nodes: unknown[] }>(t, token, 'query($ids:[ID!]!){nodes(ids:$ids){id}}', {
      ids: mine.slice(0, 200),
    });
    expect(found.data.nodes.every((one) => one === null)).toBe(true);
    for (const kind of KINDS) {
      const query = `query($id:ID!){${camel(kind.name)}(id:$id){id}}`;
      for (const id of mine.slice(0, 3)) {
        const { data, errors } = await ask<Record<string, unknown>>(t, token, query, { id });
        expect([kind.name, data[camel(kind.name)], errors]).toEqual([kind.name, null, []]);
      }
    }
  });

  it('gets a record only as what it is', async () => {
    const token = await t.token('admin');
    const query = `{visit(id:"${t.firm.ids.lone}"){id} well(id:"${t.firm.ids.lone}"){id}
      none:well(id:"nonsense"){id} nobody:node(id:"${v7()}"){id}}`;
    const { data, errors } = await ask<Record<string, unknown>>(t, token, query);
    expect(errors).toEqual([]);
    expect(data).toEqual({ visit: null, well: { id: t.firm.ids.lone }, none: null, nobody: null });
  });

  it('may ask every relation of every kind', async () => {
    const token = await t.token('admin');
    const every = new Map((await everything(token)).map(({ kind, id }) => [kind, id]));
    expect(every.size).toBeGreaterThan(12);
    for (const [kind, id] of every) {
      const own = RELATIONS.filter(({ of }) => of === kind || of === null);
      const fields = own.map(({ name }) => `${name}(first:1){totalCount nodes{id}}`).join(' ');
      const query = `query($id:ID!){node(id:$id){... on ${pascal(kind)}{${fields}}}}`;
      const { data, errors } = await ask<{ node: object }>(t, token, query, { id });
      expect([kind, errors, Object.keys(data.node).length]).toEqual([kind, [], own.length]);
    }
  });
});

describe('what was set aside', () => {
  it('is for the office', async () => {
    const crew = await t.firm.client('crew', t.firm.ids.phone);
    const outcomes = await crew.push({ kind: 'reading', set: { purge: v7(), observed: t.firm.observed(minute(1)) } });
    const id = outcomes[0]?.setAside ?? '';
    const query = `{setAsides(standing:WAITING){totalCount nodes{id code standing waitsFor text raw}} setAside(id:"${id}"){id}}`;
    const { data } = await ask<{
      setAsides: { totalCount: number; nodes: { text: string; raw: string }[] };
      setAside: object;
    }>(t, await t.token('coordinator'), query);
    expect(data.setAside).toEqual({ id });
    expect(data.setAsides).toMatchObject({
      totalCount: 1,
      nodes: [{ id, code: 'parent_missing', standing: 'WAITING' }],
    });
    const [row] = data.setAsides.nodes;
    expect(JSON.parse(row?.text ?? '')).toMatchObject({ kind: 'reading', verb: 'record' });
    expect(Buffer.from(row?.raw ?? '', 'base64').toString()).toBe(row?.text);
    for (const role of ['crew', 'dashboard'] as const) {
      const answer = await ask(t, await t.token(role, t.firm.ids.phone), '{setAsides{totalCount}}');
      expect(answer.errors[0]?.extensions.code).toBe('forbidden');
    }
    const foreign = await ask<{ setAside: null; setAsides: object }>(t, await t.token('admin', null, other), query);
    expect(foreign.data).toEqual({ setAside: null, setAsides: { totalCount: 0, nodes: [] } });
  });
});
