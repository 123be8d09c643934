import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { QUERY_LIMITS } from '../../../src/protocol/limits.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { ask } from './ask.ts';
import { graphql } from './graphql-of-mercurius.ts';

let t: TestApp;
let token: string;

beforeAll(async () => {
  t = await testApp();
  token = await t.token('coordinator');
  await ask(t, token, '{ crews { totalCount } }');
});
afterAll(() => t.close());

const repeated = (count: number, text: (index: number) => string) => Array.from({ length: count }, (_, i) => text(i));
const aliases = (count: number) => `{${repeated(count, (i) => `a${i}:__typename`).join(' ')}}`;
const chain = (count: number) =>
  `{...f0} ${repeated(count, (i) => `fragment f${i} on Query{${i + 1 < count ? `...f${i + 1}` : '__typename'}}`).join(' ')}`;
/** As large as the body may be. */
const fill = (make: (count: number) => string) => {
  let count = 1;
  while (make(count * 2).length < QUERY_LIMITS.bodyBytes - 100) count *= 2;
  return make(count);
};

/** Within well under 50 ms on a machine of its own; others may be using this one. */
const SOON_MS = 50;

async function refused(query: string, variables: object = {}) {
  const times: number[] = [];
  let answer = await ask(t, token, query, variables);
  for (let tries = 0; tries < 5; tries++) {
    const began = performance.now();
    answer = await ask(t, token, query, variables);
    times.push(performance.now() - began);
  }
  expect(Math.min(...times)).toBeLessThan(SOON_MS);
  expect(answer.data).toBeUndefined();
  return { status: answer.status, code: answer.errors[0]?.extensions.code, limit: answer.errors[0]?.extensions.limit };
}

const costly = (limit?: string) => ({ status: 400, code: 'query_too_costly', limit });

describe('a query that asks for too much is refused soon', () => {
  it('40,000 aliases: the body is too large', async () => {
    expect(await refused(aliases(40_000))).toMatchObject({ status: 413, code: 'too_large' });
  });

  it('5,000 chained fragments: the body is too large', async () => {
    expect(await refused(chain(5_000))).toMatchObject({ status: 413, code: 'too_large' });
  });

  it('as many aliases, fragments, fields or braces as a body holds: too many tokens', async () => {
    const fields = (count: number) => `{${repeated(count, () => 'me').join(' ')}}`;
    const braces = (count: number) => '{a'.repeat(count) + '}'.repeat(count);
    const directives = (count: number) => `{__typename ${repeated(count, () => '@include(if:true)').join(' ')}}`;
    const lists = (count: number) => `{nodes(ids:${'['.repeat(count)}${']'.repeat(count)}){id}}`;
    for (const make of [aliases, chain, fields, braces, directives, lists]) {
      expect(await refused(fill(make))).toEqual(costly());
    }
  });

  it('within the tokens, by the limit that it passes', async () => {
    expect(await refused(aliases(100))).toEqual(costly('aliases'));
    expect(await refused(chain(100))).toEqual(costly('fragments'));
    expect(await refused(`{${repeated(900, () => '__typename').join(' ')}}`)).toEqual(costly('fields'));
    expect(await refused(`{${repeated(2, (i) => `s${i}:__schema{types{name}}`).join(' ')}}`)).toEqual(
      costly('introspections'),
    );
  });

  it('too deep, with or without fragments', async () => {
    const deep =
      'event(id:"x"){site{wells{nodes{visits{nodes{purges{nodes{readings{nodes{meter{signOuts{nodes{id}}}}}}}}}}}}}';
    expect(await refused(`{${deep}}`)).toEqual(costly('depth'));
    const parts = `{event(id:"x"){site{...S}}} fragment S on Site{wells{nodes{visits{nodes{...V}}}}}
      fragment V on Visit{purges{nodes{readings{nodes{meter{signOuts{nodes{id}}}}}}}}`;
    expect(await refused(parts)).toEqual(costly('depth'));
  });

  it('fragments that go in circles', async () => {
    const circle = '{...A} fragment A on Query{crews{nodes{...B}}} fragment B on Crew{devices{nodes{crew{...B}}}}';
    expect(await refused(circle)).toEqual(costly('depth'));
    expect(await refused('{...A} fragment A on Query{...A}')).toEqual(costly('depth'));
  });

  it('pages within pages, whether their length is written or given', async () => {
    const nested = (first: string) =>
      `events(first:${first}){nodes{visits(first:${first}){nodes{purges(first:${first}){nodes{id}}}}}}`;
    expect(await refused(`{${nested('100')}}`)).toEqual(costly('cost'));
    expect(await refused(`query($n:Int){${nested('$n')}}`, { n: 100 })).toEqual(costly('cost'));
    expect(await refused(`query($n:Int=100){${nested('$n')}}`)).toEqual(costly('cost'));
    expect(await refused(`{a:${nested('30')} b:${nested('30')}}`)).toEqual(costly('cost'));
    const few = await ask(t, token, `query($n:Int){${nested('$n')}}`, { n: 20 });
    expect([few.status, few.errors]).toEqual([200, []]);
  });

  it('the limits leave room for what a screen of an event asks, and for tools that read the schema', async () => {
    const screen = `query($event:ID!,$n:Int){event(id:$event){name visits(first:$n){edges{cursor node{well{name} crew{name} outcome
      purges(first:2){edges{node{began assessment{stable missing advice{sentence} parameters{parameter status}}
      readings(last:20){edges{node{observed{at} ph temperatureC orpMv flowMlPerMin depthToWaterFt}}}}}}}}
      pageInfo{hasNextPage endCursor}}}}`;
    const answer = await ask(t, token, screen, { event: t.firm.ids.event, n: 50 });
    expect([answer.status, answer.errors]).toEqual([200, []]);
    const introspection = await ask<{ __schema: object }>(t, token, graphql.getIntrospectionQuery());
    expect(introspection.status).toBe(200);
    expect(Object.keys(introspection.data.__schema)).toContain('types');
  });
});

describe('a query that cannot be read', () => {
  const unreadable = { status: 400, code: 'unreadable_query', limit: undefined };

  it.each([
    ['is cut', '{ crews { nodes { id }'],
    ['has an unknown field', '{ crewz { totalCount } }'],
    ['has an unknown argument', '{ crews(frist: 2) { totalCount } }'],
    ['has a value of another type', '{ crews(first: "two") { totalCount } }'],
    ['is a subscription', 'subscription { crews { totalCount } }'],
    ['lacks a variable', 'query($id: ID!) { event(id: $id) { id } }'],
    ['is a syntax tree in JSON', '{"kind":"Document","definitions":[]}'],
    ['is a list in JSON', '[{"kind":"Document"}]'],
    ['is null in JSON', 'null'],
    ['is an empty object', '{}'],
    ['is a number', '7'],
    ['is only a remark', '# nothing'],
  ])('%s: it is refused with a code', async (_, query) => {
    expect(await refused(query)).toEqual(unreadable);
  });

  it('names no operation of the document, or one of several', async () => {
    const headers = { authorization: `Bearer ${token}` };
    const query = 'query A { crews { totalCount } } query B { wells { totalCount } }';
    const post = async (payload: object) =>
      (await t.app.inject({ method: 'POST', url: '/graphql', headers, payload })).json();
    expect((await post({ query, operationName: 'A' })).data).toEqual({ crews: { totalCount: 2 } });
    expect((await post({ query, operationName: 'C' })).errors[0].extensions.code).toBe('unreadable_query');
    expect((await post({ query })).errors[0].extensions.code).toBe('unreadable_query');
  });

  it('is not told what else there is', async () => {
    const { errors } = await ask(t, token, '{ crewz { totalCount } event(ident: "x") { nam } }');
    expect(errors.length).toBeGreaterThan(1);
    for (const { message, extensions } of errors) {
      expect(message).not.toMatch(/did you mean|"crews?"|"name"/i);
      expect(extensions).toMatchObject({ code: 'unreadable_query', requestId: expect.any(String) });
    }
  });

  it('is told at most ten of its faults', async () => {
    const { errors } = await ask(t, token, `{ ${repeated(40, (i) => `x${i}`).join(' ')} }`);
    expect(errors.length).toBeLessThanOrEqual(11);
    expect(errors.every((error) => error.extensions.code === 'unreadable_query')).toBe(true);
  });

  it('is one query a request, in a body of JSON', async () => {
    const headers = { authorization: `Bearer ${token}` };
    const post = async (payload: object | string, type = 'application/json') => {
      const sent = { method: 'POST' as const, url: '/graphql', headers: { ...headers, 'content-type': type }, payload };
      const response = await t.app.inject(sent);
      return [response.statusCode, response.json().errors[0].extensions.code];
    };
    expect(await post([{ query: '{ __typename }' }, { query: '{ __typename }' }])).toEqual([400, 'bad_request']);
    expect(await post({ variables: {} })).toEqual([400, 'bad_request']);
    expect(await post({ query: '' })).toEqual([400, 'bad_request']);
    expect(await post('{ crews { totalCount } }', 'application/graphql')).toEqual([415, 'unsupported_media']);
    expect(await post('{"query":')).toEqual([400, 'unreadable_json']);
    expect(await post(`{"query":"{__typename}","variables":${'['.repeat(60)}${']'.repeat(60)}}`)).toEqual([
      400,
      'too_deep',
    ]);
  });

  it('is posted: there is no other way in', async () => {
    const headers = { authorization: `Bearer ${token}` };
    const url = `/graphql?query=${encodeURIComponent('{__typename}')}`;
    expect((await t.app.inject({ url, headers })).statusCode).toBe(404);
    expect((await t.app.inject({ url: '/graphiql', headers })).statusCode).toBe(404);
  });
});

describe('a fault of ours', () => {
  it('is named, and nothing more is said of it', async () => {
    const pool = t.db.pool as { connect: unknown };
    const { connect } = pool;
    pool.connect = () => Promise.reject(new Error('secret of the database'));
    try {
      const { status, data, errors } = await ask<{ crews: null }>(t, token, '{ crews { totalCount } }');
      expect([status, data]).toEqual([200, null]);
      expect(errors[0]).toMatchObject({ path: ['crews'], extensions: { code: 'internal' } });
      expect(JSON.stringify(errors)).not.toContain('secret');
    } finally {
      pool.connect = connect;
    }
  });

  it('that passes is answered so that it is tried again', async () => {
    const pool = t.db.pool as { connect: unknown };
    const { connect } = pool;
    pool.connect = () => Promise.reject(Object.assign(new Error('no'), { code: 'ECONNREFUSED' }));
    try {
      const { status, errors } = await ask(t, token, '{ crews { totalCount } }');
      expect([status, errors[0]?.extensions.code]).toEqual([503, 'busy']);
    } finally {
      pool.connect = connect;
    }
  });

  it('leaves no connection behind, nor does anything above', async () => {
    await ask(t, token, '{a:crews{totalCount} b:crews(first:0){totalCount} c:node(id:"x"){id}}');
    expect(t.db.pool.totalCount).toBeGreaterThan(0);
    expect(t.db.pool.idleCount).toBe(t.db.pool.totalCount);
  });
});
