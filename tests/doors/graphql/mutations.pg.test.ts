import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { TestFirm } from '../../support/test-firm.ts';
import { minute, readingDraft, visitDrafts } from '../../support/visit-drafts.ts';
import { ask } from './ask.ts';

let t: TestApp;
let office: string;
let crew: string;

beforeAll(async () => {
  t = await testApp();
  office = await t.token('coordinator');
  crew = await t.token('crew', t.firm.ids.phone);
}, 60_000);
afterAll(() => t.close());

interface Result {
  readonly outcome: string;
  readonly id: string;
  readonly rev: number;
  readonly code: string | null;
  readonly setAside: string | null;
  readonly conflicts: readonly string[];
  readonly repeated: boolean;
  readonly record: Record<string, unknown> | null;
}

const RESULT =
  'outcome kind id rev feed seq conflicts setAside code detail pointer repeated record{id rev kind voided{reason}}';

async function change(token: string, name: string, args: string, variables: object = {}, types = '') {
  const query = `mutation${types === '' ? '' : `(${types})`}{it:${name}(${args}){${RESULT}}}`;
  const answer = await ask<{ it: Result } | null>(t, token, query, variables);
  return { result: answer.data?.it, errors: answer.errors };
}

async function done(...args: Parameters<typeof change>): Promise<Result> {
  const { result, errors } = await change(...args);
  expect(errors).toEqual([]);
  return result as Result;
}

const visitInput = () => ({
  event: t.firm.ids.event,
  well: t.firm.ids.lone,
  crew: t.firm.ids.north,
  method: 'LOW_FLOW',
  arrived: minute(-30),
});
const observed = (at: number) => {
  const { readBy, writtenBy } = t.firm.observed('');
  return { at: minute(at), entered: minute(at), captured: 'AT_THE_WELL', readBy, writtenBy };
};

const recordVisit = (token = crew, more: object = {}, key: string | null = null) =>
  done(
    token,
    'recordVisit',
    'input:$input idempotencyKey:$key',
    { input: { ...visitInput(), ...more }, key },
    '$input:VisitInput! $key:String',
  );

async function recordPurge(): Promise<string> {
  const { id: visit } = await recordVisit();
  const input = { visit, began: minute(0) };
  return (await done(crew, 'recordPurge', 'input:$input', { input }, '$input:PurgeInput!')).id;
}

const recordReading = (token: string, input: object, more = '') =>
  change(token, 'recordReading', `input:$input ${more}`, { input }, '$input:ReadingInput!');

describe('a change', () => {
  it('is applied, and answers with the outcome of a push and the record as it stands', async () => {
    const purge = await recordPurge();
    const id = v7();
    const input = { purge, ph: '7.10', overRange: ['ORP_MV'], orpMv: '-5', observed: observed(5) };
    const { result, errors } = await recordReading(crew, input, `id:"${id}"`);
    expect(errors).toEqual([]);
    expect(result).toMatchObject({ outcome: 'APPLIED', id, rev: 1, code: null, conflicts: [], repeated: false });
    expect(result?.record).toEqual({ id, rev: 1, kind: 'reading', voided: null });
    const { data } = await ask(
      t,
      office,
      `{reading(id:"${id}"){ph orpMv overRange captured:observed{captured at} by{name}}}`,
    );
    expect(data).toEqual({
      reading: {
        ph: '7.10',
        orpMv: '-5',
        overRange: ['ORP_MV'],
        captured: { captured: 'AT_THE_WELL', at: minute(5) },
        by: { name: 'Ann Reader' },
      },
    });
  });

  it('is the same in the ledger as one that was pushed', async () => {
    const purge = await recordPurge();
    const draft = readingDraft(t.firm, purge, 5);
    const [pushed] = await (await t.firm.client('crew', t.firm.ids.phone)).push(draft);
    const { observed: seen, ...values } = draft.set as { observed: object };
    const input = { ...values, observed: { ...seen, captured: 'AT_THE_WELL' } };
    const { result } = await recordReading(crew, input);
    const { rows } = await t.db.bypass.query(
      `select state->'fields' as fields from ledger where record = any($1) order by received_at`,
      [[pushed?.id, result?.id]],
    );
    expect(rows).toHaveLength(2);
    expect(rows[0]).toEqual(rows[1]);
  });

  it('takes a plan with its choices by parameter, and gives it out again', async () => {
    const plan = {
      criteria: 'epa-region-1-low-stress-rev-4',
      stabilization: {
        percentArithmetic: 'EACH_OF_MEAN',
        graceS: 20,
        parameters: [
          { parameter: 'DISSOLVED_OXYGEN', use: 'ADVISORY', sensorFloor: '0.2' },
          { parameter: 'PH', roundTo: '0.01' },
        ],
      },
    };
    const input = {
      site: t.firm.ids.site,
      name: 'Autumn',
      starts: '2026-09-01',
      ends: '2026-09-02',
      standing: 'PLANNED',
      plan,
    };
    const { id } = await done(office, 'recordEvent', 'input:$input', { input }, '$input:EventInput!');
    const { rows } = await t.db.bypass.query('select plan from event where id = $1', [id]);
    expect(rows[0].plan).toEqual({
      criteria: plan.criteria,
      stabilization: {
        percentArithmetic: 'each-of-mean',
        graceS: 20,
        parameters: { 'dissolved-oxygen': { use: 'advisory', sensorFloor: '0.2' }, ph: { roundTo: '0.01' } },
      },
    });
    const query = `{event(id:"${id}"){plan{criteria stabilization{percentArithmetic graceS parameters{parameter use sensorFloor roundTo}}}}}`;
    const none = { use: null, sensorFloor: null, roundTo: null };
    expect((await ask<{ event: { plan: object } }>(t, office, query)).data.event.plan).toEqual({
      ...plan,
      stabilization: {
        ...plan.stabilization,
        parameters: plan.stabilization.parameters.map((one) => ({ ...none, ...one })),
      },
    });
  });

  it('amends, clears with null, and keeps what others changed meanwhile beside it', async () => {
    const { id } = await recordVisit();
    const amend = (token: string, input: object, baseRev = 1) =>
      done(token, 'amendVisit', `id:"${id}" baseRev:${baseRev} input:$input`, { input }, '$input:VisitAmendment!');
    expect(await amend(crew, { outcome: 'DRY', outcomeReason: 'no water' })).toMatchObject({
      outcome: 'APPLIED',
      rev: 2,
    });
    expect(await amend(crew, { outcomeReason: null }, 2)).toMatchObject({ rev: 3 });
    const { data } = await ask(t, office, `{visit(id:"${id}"){outcome outcomeReason}}`);
    expect(data).toEqual({ visit: { outcome: 'DRY', outcomeReason: null } });
    const clash = await amend(office, { outcome: 'FROZEN' }, 1);
    expect(clash).toMatchObject({ outcome: 'CONFLICT_KEPT', conflicts: [expect.any(String)] });
    const kept = `{conflict(id:"${clash.conflicts[0]}"){standing field shown{value} kept{value} subject{id} rev}}`;
    const { conflict } = (await ask<{ conflict: { rev: number } }>(t, office, kept)).data;
    expect(conflict).toMatchObject({ standing: 'OPEN', field: 'outcome', subject: { id } });
    const args = `id:"${clash.conflicts[0]}" baseRev:${conflict.rev} value:"dry" reason:"asked the crew"`;
    expect(await done(office, 'resolveConflict', args)).toMatchObject({ outcome: 'APPLIED' });
    const after = `{visit(id:"${id}"){outcome conflicts{nodes{standing resolutions{nodes{value over reason}}}}}}`;
    const { visit } = (await ask<{ visit: { outcome: string } }>(t, office, after)).data;
    expect(visit.outcome).toBe('DRY');
    expect(JSON.stringify(visit)).toContain('asked the crew');
  });

  it('voids with a reason, and the record stays readable', async () => {
    const { id } = await recordVisit();
    const voided = await done(crew, 'voidVisit', `id:"${id}" baseRev:1 reason:"wrong day"`);
    expect(voided.record).toMatchObject({ id, rev: 2, voided: { reason: 'wrong day' } });
    expect((await change(crew, 'voidVisit', `id:"${id}"`)).errors[0]?.extensions.code).toBe('unreadable_query');
  });

  it('moves a visit to the right well, and what is under it along', async () => {
    const { id } = await recordVisit();
    const args = `id:"${id}" baseRev:1 well:"${t.firm.ids.deep}" reason:"other well of the nest"`;
    expect(await done(crew, 'rehomeVisit', args)).toMatchObject({ outcome: 'APPLIED', rev: 2 });
    const { data } = await ask(t, office, `{visit(id:"${id}"){well{name} reason}}`);
    expect(data).toEqual({ visit: { well: { name: 'W-4D' }, reason: 'other well of the nest' } });
  });

  it('that waits for a record is set aside, and released by the office', async () => {
    const member = v7();
    const input = { ...visitInput(), arrived: minute(1) };
    const waits = await done(
      crew,
      'recordVisit',
      `input:$input requires:["${member}"]`,
      { input },
      '$input:VisitInput!',
    );
    expect(waits).toMatchObject({
      outcome: 'SET_ASIDE',
      code: 'parent_missing',
      setAside: expect.any(String),
      record: null,
    });
    const args = `id:"${waits.setAside}"`;
    expect((await change(crew, 'releaseSetAside', args)).errors[0]?.extensions.code).toBe('forbidden');
    expect(await done(office, 'releaseSetAside', args)).toMatchObject({ outcome: 'REFUSED', code: 'release_failed' });
    const person = { name: 'Cy', initials: 'C', standing: 'ACTIVE' };
    await done(office, 'recordMember', `id:"${member}" input:$input`, { input: person }, '$input:MemberInput!');
    expect(await done(office, 'releaseSetAside', args)).toMatchObject({ outcome: 'REFUSED', code: 'not_set_aside' });
    expect((await ask(t, office, `{visit(id:"${waits.id}"){rev}}`)).data).toEqual({ visit: { rev: 1 } });
  });
});

describe('a change repeated under its key', () => {
  it('is done once and answered the same', async () => {
    const key = randomUUID();
    const first = await recordVisit(crew, {}, key);
    const again = await recordVisit(crew, {}, key);
    expect(again).toEqual({ ...first, repeated: true });
    const { rows } = await t.db.bypass.query('select count(*) as count from visit where id = $1', [first.id]);
    expect(rows[0].count).toBe(1);
  });

  it('with another content is refused, and means nothing to another token', async () => {
    const key = randomUUID();
    const first = await recordVisit(crew, {}, key);
    const args = 'input:$input idempotencyKey:$key';
    const input = { ...visitInput(), method: 'VOLUME' };
    const { result, errors } = await change(
      crew,
      'recordVisit',
      args,
      { input, key },
      '$input:VisitInput! $key:String',
    );
    expect([result, errors[0]?.extensions.code]).toEqual([undefined, 'key_reused']);
    expect((await recordVisit(office, {}, key)).id).not.toBe(first.id);
  });

  it('meets the receipt of the same change through REST', async () => {
    const key = randomUUID();
    const first = await recordVisit(crew, {}, key);
    const headers = { authorization: `Bearer ${crew}`, 'idempotency-key': key };
    const payload = { ...visitInput(), method: 'low-flow' };
    const response = await t.app.inject({ method: 'POST', url: '/v1/visits', headers, payload });
    expect([response.json().id, response.headers['idempotent-replay']]).toEqual([first.id, 'true']);
  });

  it('is not meant where none was given: each is a change of its own', async () => {
    const query = `mutation($i:VisitInput!){a:recordVisit(input:$i){id} b:recordVisit(input:$i){id}}`;
    const { data } = await ask<Record<'a' | 'b', { id: string }>>(t, crew, query, { i: visitInput() });
    expect(data.a.id).not.toBe(data.b.id);
  });

  it('has a key of a lawful length', async () => {
    for (const key of ['', 'x'.repeat(256)]) {
      const args = `id:"${v7()}" reason:"x" idempotencyKey:"${key}"`;
      expect((await change(crew, 'voidVisit', args)).errors[0]?.extensions.code).toBe('bad_request');
    }
  });
});

describe('a change that is not taken', () => {
  it('is refused where it cannot be read, and nothing is kept of it', async () => {
    const before = await t.db.bypass.query('select count(*) as count from set_aside');
    const purge = await recordPurge();
    const { result, errors } = await recordReading(crew, { purge, ph: '7,1', observed: observed(5) });
    expect(result).toBeUndefined();
    expect(errors[0]).toMatchObject({
      path: ['it'],
      message: expect.stringContaining('decimal string'),
      extensions: { code: 'unreadable_record', pointer: '/input/ph' },
    });
    const after = await t.db.bypass.query('select count(*) as count from set_aside');
    expect(after.rows).toEqual(before.rows);
  });

  it('is set aside where the role may not write the kind, and refused where the role writes nothing', async () => {
    const input = { name: 'West crew' };
    const args = ['recordCrew', 'input:$input', { input }, '$input:CrewInput!'] as const;
    expect(await done(crew, ...args)).toMatchObject({ outcome: 'SET_ASIDE', code: 'right_missing' });
    const { errors } = await change(await t.token('dashboard'), ...args);
    expect(errors[0]?.extensions.code).toBe('forbidden');
    expect(await done(office, ...args)).toMatchObject({ outcome: 'APPLIED' });
  });

  it('is of a record that the writer may see', async () => {
    const other = new TestFirm(t.db.pool);
    await other.setUp();
    const foreign = { verb: 'amend', id: other.ids.lone };
    for (const id of [foreign.id, v7(), 'nonsense']) {
      const args = `id:"${id}" baseRev:1 input:{remark:"x"}`;
      const { errors } = await change(office, 'amendWell', args);
      expect(['record_missing', 'unreadable_record']).toContain(errors[0]?.extensions.code);
    }
    const wrongKind = await change(office, 'amendWell', `id:"${t.firm.ids.pump}" baseRev:1 input:{remark:"x"}`);
    expect(wrongKind.errors[0]?.extensions.code).toBe('record_missing');
    const { rows } = await t.db.bypass.query('select rev from well where id = $1', [other.ids.lone]);
    expect(rows[0].rev).toBe(1);
  });

  it('leaves the others of the same request as they are', async () => {
    const query = `mutation($i:VisitInput!){a:recordVisit(input:$i){outcome} b:recordVisit(input:$i,id:"x"){outcome}}`;
    const { data, errors } = await ask<null>(t, crew, query, { i: visitInput() });
    expect(data).toBeNull();
    expect(errors).toMatchObject([{ path: ['b'], extensions: { code: 'unreadable_record' } }]);
  });
});

it('reads after a change what the change brought', async () => {
  const { ids, drafts } = visitDrafts(t.firm);
  await (await t.firm.client('crew', t.firm.ids.phone)).push(...drafts);
  const visit = `{...on Visit{outcome purges{nodes{began}}}}`;
  const query = `mutation{a:amendVisit(id:"${ids.visit}",baseRev:1,input:{outcome:DRY}){record${visit}}
    b:amendVisit(id:"${ids.visit}",baseRev:2,input:{outcome:FROZEN}){record${visit}}}`;
  const { data, errors } = await ask(t, crew, query);
  expect(errors).toEqual([]);
  const purges = { nodes: [{ began: minute(0) }] };
  expect(data).toEqual({
    a: { record: { outcome: 'DRY', purges } },
    b: { record: { outcome: 'FROZEN', purges } },
  });
});
