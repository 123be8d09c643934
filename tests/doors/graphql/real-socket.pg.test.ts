import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';

let t: TestApp;
let url: string;

beforeAll(async () => {
  t = await testApp();
  url = await t.app.listen({ port: 0, host: '127.0.0.1' });
});
afterAll(() => t.close());

describe('GraphQL over a real connection', () => {
  it('answers: a body that was read to its end is no lost connection', async () => {
    const authorization = `Bearer ${await t.token('coordinator')}`;
    const query = `{ event(id: "${t.firm.ids.event}") { name } }`;
    const headers = { authorization, 'content-type': 'application/json' };
    const response = await fetch(`${url}/graphql`, { method: 'POST', headers, body: JSON.stringify({ query }) });
    expect(await response.json()).toEqual({ data: { event: { name: 'Spring round' } } });
  });
});
