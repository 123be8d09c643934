import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPush } from '../../src/doors/sync/read-push.ts';
import { LIMITS } from '../../src/protocol/limits.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type OutcomeLike, type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, readingDraft, visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let crew: TestClient;
let office: TestClient;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
  crew = await firm.client('crew', firm.ids.phone);
  office = await firm.client('coordinator');
});
afterAll(() => db.drop());

/** Pushes raw lines as the sync door reads them. */
async function pushRaw(client: TestClient, lines: readonly (Buffer | string)[]): Promise<OutcomeLike[]> {
  const header = { client: client.id, schemaVersion: 1, first: client.next, count: lines.length };
  client.next += lines.length;
  const parts = [JSON.stringify(header), ...lines].map((line) => Buffer.concat([Buffer.from(line), Buffer.from('\n')]));
  return client.outcomes(await firm.lane(readPush(Buffer.concat(parts), client.actor, false)));
}

interface Kept {
  readonly raw: Buffer;
  readonly code: string;
  readonly standing: string;
  readonly detail: string;
}

async function kept(client: string, mutation: number): Promise<Kept | undefined> {
  const text = 'select raw, code, standing, detail from set_aside where client = $1 and mutation = $2';
  return (await db.bypass.query<Kept>(text, [client, mutation])).rows[0];
}

/** A note on the visit that is good in every way but the one that a test breaks. */
function good(number: number, more: object = {}): string {
  const set = { name: 'A crew', ...more };
  return JSON.stringify({ mutationId: number, verb: 'record', kind: 'crew', id: v7(), set });
}

const deep = (levels: number) => '['.repeat(levels) + ']'.repeat(levels);

const UNREADABLE: readonly (readonly [string, (number: number) => Buffer | string, string])[] = [
  ['NUL between the signs', (n) => `\0${good(n)}`, 'unreadable_json'],
  ['NUL inside a text, escaped', (n) => good(n, { name: 'a\0b' }), 'unreadable_record'],
  ['NUL in the name of a field', (n) => good(n, { 'na\0me': 'x' }), 'unreadable_record'],
  ['half of a surrogate pair', (n) => good(n).replace('A crew', 'A \\ud800 crew'), 'unreadable_record'],
  ['half of a surrogate pair in what was seen', (n) => seeing(n, '"\\udc00"'), 'unreadable_record'],
  ['NUL in what was seen', (n) => seeing(n, '"a\\u0000"'), 'unreadable_record'],
  ['a number beyond numbers', (n) => good(n).replace('"A crew"', '1e309'), 'unreadable_record'],
  ['a number beyond numbers in what was seen', (n) => seeing(n, '1e309'), 'unreadable_record'],
  ['bytes that are not UTF-8', (n) => Buffer.concat([Buffer.from(good(n)), Buffer.from([0xff])]), 'unreadable_text'],
  ['a cut text', (n) => good(n).slice(0, -3), 'unreadable_json'],
  ['nothing', () => '', 'unreadable_json'],
  ['a list', (n) => `[${n}]`, 'unreadable_record'],
  ['too large a line', (n) => good(n, { name: 'x'.repeat(LIMITS.mutationBytes) }), 'too_large'],
  ['too deep a line', (n) => seeing(n, deep(LIMITS.jsonDepth)), 'too_deep'],
  ['another number', (n) => good(n + 1), 'wrong_number'],
  ['an unknown kind', (n) => good(n).replace('"crew"', '"truck"'), 'unknown_kind'],
  ['an unknown field', (n) => good(n, { truck: 'red' }), 'unreadable_record'],
  ['a kind of the server', (n) => good(n).replace('"crew"', '"flag"'), 'derived'],
];

/** An amendment that says in values what its author had seen. */
function seeing(number: number, value: string): string {
  const id = firm.ids.north;
  return `{"mutationId":${number},"verb":"amend","kind":"crew","id":"${id}","set":{"name":"North"},"base":{"was":{"name":${value}}}}`;
}

describe('what cannot be read', () => {
  it.each(UNREADABLE)('[W10] is kept byte for byte and sinks no other: %s', async (_what, make, code) => {
    const client = await firm.client('coordinator');
    const line = make(2);
    const outcomes = await pushRaw(client, [good(1), line, good(3)]);
    expect(outcomes.map((one) => one.outcome)).toEqual(['applied', 'set_aside', 'applied']);
    expect(outcomes[1]).toMatchObject({ mutationId: 2, code });
    const row = await kept(client.id, 2);
    expect(row?.raw.equals(Buffer.from(line))).toBe(true);
    expect(row).toMatchObject({ code, standing: 'kept' });
  });

  it('[W10] is not let go ahead by a person either', async () => {
    const client = await firm.client('coordinator');
    const [outcome] = await pushRaw(client, [seeing(1, '1e309')]);
    const [released] = await office.push({ verb: 'release', kind: 'set-aside', id: outcome?.setAside ?? '' });
    expect(released).toMatchObject({ outcome: 'refused' });
  });
});

describe('what means nothing', () => {
  it('[W9] is refused, and sinks no other', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const amend = (set: object) => ({ verb: 'amend', kind: 'visit', id: ids.visit, base: { rev: 1 }, set: { ...set } });
    const outcomes = await crew.push(
      ...drafts,
      amend({}),
      amend({ well: firm.ids.deep }),
      { verb: 'void', kind: 'purge', id: ids.visit, reason: 'wrong kind' },
      amend({ outcome: 'sampled' }),
    );
    expect(outcomes.map((one) => one.code ?? one.outcome)).toEqual([
      'applied',
      'applied',
      'nothing_to_change',
      'home_fixed',
      'kind_differs',
      'applied',
    ]);
  });
});

describe('what waits for a record', () => {
  it('[W8] is applied when that comes, however many wait for one another, in the name of its author', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const reading = readingDraft(firm, ids.purge, 5);
    const fix = { verb: 'amend', kind: 'reading', id: reading.id ?? '', base: { after: crew.next } };
    const [first, second] = await crew.push(reading, { ...fix, set: { ph: '7.2' }, reason: 'misread' });
    expect([first, second]).toMatchObject([
      { outcome: 'set_aside', code: 'parent_missing' },
      { outcome: 'set_aside', code: 'parent_missing' },
    ]);
    const other = await firm.client('crew', firm.ids.otherPhone);
    const [purge] = await other.push(drafts[1] ?? { kind: 'purge' });
    expect(purge).toMatchObject({ outcome: 'set_aside' });
    const [visit] = await office.push(drafts[0] ?? { kind: 'visit' });
    expect(visit).toMatchObject({ outcome: 'applied' });
    const { rows } = await db.bypass.query(
      `select record, rev, client, mutation, state->>'by' as by from ledger where record = any($1) order by seq`,
      [[ids.purge, reading.id]],
    );
    expect(rows).toEqual([
      { record: ids.purge, rev: 1, client: other.id, mutation: 1, by: firm.ids.ann },
      { record: reading.id, rev: 1, client: crew.id, mutation: first?.mutationId, by: firm.ids.ann },
      { record: reading.id, rev: 2, client: crew.id, mutation: second?.mutationId, by: firm.ids.ann },
    ]);
    expect(await kept(crew.id, first?.mutationId ?? 0)).toMatchObject({ standing: 'released' });
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[W8] keeps the answer that its author got, whatever becomes of it', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const client = await firm.client('crew', firm.ids.phone);
    const line = client.line(readingDraft(firm, ids.purge, 5));
    const before = await client.answer([line], 1);
    await crew.push(...drafts);
    expect(await client.answer([line], 1)).toMatchObject({
      outcomes: before.status === 'answered' ? before.outcomes : [],
    });
  });

  it('[W8] supersedes then what its author had in view, and nothing else', async () => {
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...drafts);
    const late = v7();
    const amend = (base: object, set: object, requires: string[] = []) => {
      return { verb: 'amend', kind: 'purge', id: ids.purge, base, set: { ...set }, requires };
    };
    await office.push(amend({ rev: 1 }, { remark: 'of the office' }));
    const number = crew.next;
    await crew.push(amend({ rev: 2 }, { ended: minute(50) }));
    const [waits] = await crew.push(amend({ after: number }, { remark: 'of the crew' }, [late]));
    expect(waits).toMatchObject({ outcome: 'set_aside', code: 'parent_missing' });
    await office.push({ kind: 'crew', id: late, set: { name: 'West crew' } });
    const { rows } = await db.bypass.query(`select count(*) from conflict where subject = $1`, [ids.purge]);
    expect(rows).toEqual([{ count: 0 }]);
    const now = await db.bypass.query('select remark from purge where id = $1', [ids.purge]);
    expect(now.rows).toEqual([{ remark: 'of the crew' }]);
  });
});

describe('what a person lets go ahead', () => {
  it('[W12] is applied with the right of that person and the name of its author, and all that waited for it', async () => {
    const [nest, well] = [v7(), v7()];
    const set = { site: firm.ids.site, name: 'W-9', standing: 'unknown', depthsFrom: 'ground', nest };
    const [first] = await crew.push({ kind: 'nest', id: nest, set: { site: firm.ids.site, name: 'Nest 9' } });
    expect(first).toMatchObject({ outcome: 'set_aside', code: 'right_missing' });
    const [second] = await office.push({ kind: 'well', id: well, set });
    expect(second).toMatchObject({ outcome: 'set_aside', code: 'parent_missing' });
    const release = { verb: 'release', kind: 'set-aside', id: first?.setAside ?? '' };
    const [refused] = await crew.push(release);
    expect(refused).toMatchObject({ outcome: 'set_aside', code: 'right_missing' });
    const [released] = await office.push(release);
    expect(released).toMatchObject({ outcome: 'applied', kind: 'nest', id: nest, rev: 1 });
    const [again] = await office.push(release);
    expect(again).toMatchObject({ outcome: 'refused', code: 'not_set_aside' });
    const { rows } = await db.bypass.query(`select record, client from ledger where record = any($1) order by seq`, [
      [nest, well],
    ]);
    expect(rows).toEqual([
      { record: nest, client: crew.id },
      { record: well, client: office.id },
    ]);
  });

  it('[W12] stays where it is while it still cannot be applied', async () => {
    const { ids } = visitDrafts(firm);
    const [waits] = await crew.push(readingDraft(firm, ids.purge, 5));
    const release = { verb: 'release', kind: 'set-aside', id: waits?.setAside ?? '' };
    const [outcome] = await office.push(release);
    expect(outcome).toMatchObject({ outcome: 'refused', code: 'release_failed' });
    expect(await kept(crew.id, waits?.mutationId ?? 0)).toMatchObject({ standing: 'waiting' });
  });
});

describe('a revoked device', () => {
  async function revoked(): Promise<TestClient> {
    const client = await firm.client('crew', firm.ids.phone);
    Object.assign(client, { actor: { ...client.actor, revoked: true } });
    return client;
  }

  it('[W13] may hand in what it has, for a person to look at', async () => {
    const client = await revoked();
    const { drafts } = visitDrafts(firm);
    const outcomes = await client.push(...drafts);
    expect(outcomes.map((one) => [one.outcome, one.code])).toEqual([
      ['set_aside', 'device_revoked'],
      ['set_aside', 'device_revoked'],
    ]);
    const [released] = await office.push({ verb: 'release', kind: 'set-aside', id: outcomes[0]?.setAside ?? '' });
    expect(released).toMatchObject({ outcome: 'applied', kind: 'visit' });
  });

  it('[W13] fills no more than its share, whatever client ids it makes up', async () => {
    const client = await revoked();
    await client.push({ kind: 'crew', set: { name: 'x' } });
    await db.bypass.query(
      `insert into set_aside (firm, id, client, mutation, role, raw, outcome, code, detail, standing, received_at)
select $1, gen_random_uuid(), $2, 1000000 + n, 'crew', '', 'set_aside', 'device_revoked', '', 'kept', now()
from generate_series(2, $3) as n`,
      [firm.id, client.id, LIMITS.revokedMutations - 1],
    );
    const outcomes = await client.push(...['a', 'b', 'c'].map((name) => ({ kind: 'crew', set: { name } })));
    expect(outcomes.map((one) => one.outcome)).toEqual(['set_aside', 'refused', 'refused']);
    const other = await revoked();
    Object.assign(other, { actor: client.actor });
    const [more] = await other.push({ kind: 'crew', set: { name: 'd' } });
    expect(more).toMatchObject({ outcome: 'refused', code: 'device_revoked' });
    const { rows } = await db.bypass.query('select count(*) from set_aside where client = any($1)', [
      [client.id, other.id],
    ]);
    expect(rows).toEqual([{ count: LIMITS.revokedMutations }]);
  });
});
