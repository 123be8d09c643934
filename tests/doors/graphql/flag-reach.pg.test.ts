import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { graphSchema } from '../../../src/doors/graphql/schema.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { batchOf } from '../../support/test-firm.ts';
import { purgeDrafts, readingDraft } from '../../support/visit-drafts.ts';
import { RestClient } from '../rest/rest-client.ts';
import { ask } from './ask.ts';
import { graphql } from './graphql-of-mercurius.ts';

interface Flags {
  readonly totalCount: number;
  readonly nodes: readonly { readonly subjectKind: string; readonly rule: string }[];
}
interface Told {
  readonly visit: { readonly flags: Flags; readonly allFlags: Flags };
  readonly event: {
    readonly allFlags: Flags;
    readonly status: { readonly totals: { readonly openFlags: number }; readonly flags: { readonly count: number }[] };
  };
  readonly flags: Flags;
}

const LIST = '{ totalCount nodes { subjectKind rule } }';
const RAISED = 'where: { standing: RAISED }';
const QUERY = `query ($visit: ID!, $event: ID!) {
  visit(id: $visit) { flags ${LIST} allFlags(${RAISED}) ${LIST} }
  event(id: $event) { allFlags(${RAISED}) ${LIST} status { totals { openFlags } flags { count } } }
  flags(${RAISED}) ${LIST}
}`;

let t: TestApp;
let told: Told;
let openFlagsByRest: number;

/** A visit with a reading that nobody can believe, pushed from a phone whose clock is an hour behind. */
beforeAll(async () => {
  t = await testApp();
  const { ids } = t.firm;
  const phone = await t.firm.client('crew', ids.phone);
  const { ids: made, drafts } = purgeDrafts(t.firm);
  const wrong = readingDraft(t.firm, made.purge, 25, { ph: '15.0' });
  const wall = new Date(t.firm.nowMs - 3_600_000).toISOString();
  const clock = { wall, monotonicMs: 1_000, boot: 'b1', sequence: 1 };
  const lines = [...drafts, { ...wrong, clock }].map((draft) => phone.line(draft));
  await phone.lane({ ...batchOf(phone.actor, phone.id, 1, lines), sent: clock });
  const office = await t.token('coordinator');
  const { data, errors } = await ask<Told>(t, office, QUERY, { visit: made.visit, event: ids.event });
  expect(errors).toEqual([]);
  told = data;
  const status = await new RestClient(t, office).get(`/events/${ids.event}/status`);
  openFlagsByRest = status.body.totals.openFlags;
});
afterAll(() => t.close());

describe('the flags of a visit', () => {
  it('are those about itself; all of them take in what was recorded on it', () => {
    expect(told.visit.flags.nodes.map(({ subjectKind }) => subjectKind)).not.toContain('purge');
    expect(told.visit.allFlags.nodes).toContainEqual({ subjectKind: 'purge', rule: 'value-not-believable' });
  });
});

describe('the open flags of an event', () => {
  it('are as many in its totals, its counts and its list, through REST and GraphQL', () => {
    const { allFlags, status } = told.event;
    expect(allFlags.totalCount).toBeGreaterThan(0);
    expect(status.totals.openFlags).toBe(allFlags.totalCount);
    expect(status.flags.reduce((sum, { count }) => sum + count, 0)).toBe(allFlags.totalCount);
    expect(openFlagsByRest).toBe(allFlags.totalCount);
  });

  it('leave out one about a device, which the list of the firm has: it is about no event alone', () => {
    const rules = (flags: Flags) => flags.nodes.map(({ rule }) => rule);
    expect(rules(told.flags)).toContain('device-clock-off');
    expect(rules(told.event.allFlags)).not.toContain('device-clock-off');
    expect(told.flags.totalCount).toBe(told.event.allFlags.totalCount + 1);
  });

  it('and the schema and the document say so', async () => {
    const schema = graphSchema();
    const describe = (type: string, field: string) => {
      const object = schema.getType(type);
      return graphql.isObjectType(object) ? object.getFields()[field]?.description : undefined;
    };
    expect(describe('EventTotals', 'openFlags')).toContain('A flag about a device');
    expect(describe('Visit', 'flags')).toContain('`allFlags` of the visit has them all');
    expect(describe('Visit', 'allFlags')).toContain('all that was recorded on it');
    expect(describe('Event', 'allFlags')).toContain('about a device');
    const { body } = await new RestClient(t, null).get('/openapi.json');
    const { totals } = body.components.schemas.EventStatus.properties;
    expect(totals.properties.openFlags.description).toBe(describe('EventTotals', 'openFlags'));
    expect(body.paths['/v1/events'].post.summary).toBe('Record an event');
    expect(JSON.stringify(body)).not.toMatch(/\b[Aa] (?:event|assignment|occurrence|assessment)\b/);
    expect(graphql.printSchema(schema)).not.toMatch(/\b[Aa] (?:event|assignment|occurrence|assessment)\b/);
  });
});
