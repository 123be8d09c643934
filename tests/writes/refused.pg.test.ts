import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recompute } from '../../src/writes/recompute.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type Draft, type TestClient, TestFirm } from '../support/test-firm.ts';
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
  // what no check before the database knows of
  const owner = await db.owner();
  await owner.query(`alter table reading add constraint no_cursed_value check (ph <> 6.66)`);
  await owner.query(`alter table purge add constraint no_cursed_remark check (remark <> 'cursed')`);
});
afterAll(() => db.drop());

const cursed = { ph: '6.66' };

async function setAside(): Promise<{ client: string; mutation: number; code: string; raw: Buffer; detail: string }[]> {
  const text = `select client, mutation, code, raw, detail from set_aside where code = 'database_refused'
order by received_at, client, mutation`;
  return (await db.bypass.query(text)).rows;
}

function readings(purge: string, count: number, bad: readonly number[]): Draft[] {
  return Array.from({ length: count }, (_, at) => readingDraft(firm, purge, at + 1, bad.includes(at) ? cursed : {}));
}

describe('what only the database refuses', () => {
  it.each([
    ['first', [0]],
    ['last', [10]],
    ['in the middle', [5]],
    ['several', [1, 2, 9]],
    ['all', [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]],
  ])('[W11] is found among the others and set aside alone: %s', async (_where, bad) => {
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...drafts);
    const before = (await setAside()).length;
    const first = crew.next;
    const lines = readings(ids.purge, 11, bad).map((draft) => crew.line(draft));
    const answer = await crew.answer(lines, first);
    const outcomes = crew.outcomes(answer);
    expect(outcomes.map((one) => one.outcome)).toEqual(
      lines.map((_, at) => (bad.includes(at) ? 'set_aside' : 'applied')),
    );
    expect(outcomes.map((one) => one.mutationId)).toEqual(lines.map((_, at) => first + at));
    const rows = (await setAside()).slice(before);
    expect(rows.map((row) => row.mutation).sort((a, b) => a - b)).toEqual(bad.map((at) => first + at));
    for (const row of rows) {
      expect(row.raw.toString()).toBe(lines[row.mutation - first]);
      expect(row.detail).toContain('no_cursed_value');
    }
    expect(await crew.answer(lines, first)).toMatchObject({
      outcomes: answer.status === 'answered' ? answer.outcomes : [],
      repeated: 11,
    });
    const { rows: stored } = await db.bypass.query('select count(*) from reading where purge = $1', [ids.purge]);
    expect(stored).toEqual([{ count: 11 - bad.length }]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[W11] does not touch the pushes of others that wait for the same transaction', async () => {
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...drafts);
    const clients = await Promise.all(Array.from({ length: 6 }, () => firm.client('crew', firm.ids.phone)));
    const pushes = clients.map((client, at) => client.push(...readings(ids.purge, 3, at === 2 ? [1] : [])));
    const outcomes = (await Promise.all(pushes)).map((push) => push.map((one) => one.outcome));
    expect(outcomes.flat().filter((one) => one === 'set_aside')).toHaveLength(1);
    expect(outcomes[2]).toEqual(['applied', 'set_aside', 'applied']);
  });

  it('[W11] does not drag down the record that it waited for', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const [waits] = await crew.push(readingDraft(firm, ids.purge, 5, cursed));
    expect(waits).toMatchObject({ outcome: 'set_aside', code: 'parent_missing' });
    const outcomes = await office.push(...drafts);
    expect(outcomes.map((one) => one.outcome)).toEqual(['applied', 'applied']);
    const { rows } = await db.bypass.query('select standing from set_aside where id = $1', [waits?.setAside]);
    expect(rows).toEqual([{ standing: 'waiting' }]);
    const [released] = await office.push({ verb: 'release', kind: 'set-aside', id: waits?.setAside ?? '' });
    expect(released).toMatchObject({ outcome: 'set_aside', code: 'database_refused' });
  });

  it('[W11] lets the client go on, with what was built on it', async () => {
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...drafts);
    const number = crew.next;
    const amend = (base: object, set: object): Draft => {
      return { verb: 'amend', kind: 'purge', id: ids.purge, base, set: { ...set } };
    };
    const bad = amend({ rev: 1 }, { remark: 'cursed' });
    const outcomes = await crew.push(bad, amend({ after: number }, { ended: minute(40) }));
    expect(outcomes.map((one) => one.outcome)).toEqual(['set_aside', 'applied']);
    const [next] = await crew.push(readingDraft(firm, ids.purge, 5));
    expect(next).toMatchObject({ outcome: 'applied', mutationId: number + 2 });
  });

  it('[W11] is released once the reason is gone', async () => {
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...drafts);
    const [kept] = await crew.push({
      verb: 'amend',
      kind: 'purge',
      id: ids.purge,
      base: { rev: 1 },
      set: { remark: 'cursed', ended: minute(40) },
    });
    const owner = await db.owner();
    await owner.query('alter table purge drop constraint no_cursed_remark');
    const [released] = await office.push({ verb: 'release', kind: 'set-aside', id: kept?.setAside ?? '' });
    expect(released).toMatchObject({ outcome: 'applied', kind: 'purge', id: ids.purge, rev: 2 });
  });
});

describe('a suite with signs that mean something to the database', () => {
  it('[W10] is stored sign for sign in its column', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const suites = ['VOC, "low"', 'a\\b', 'c{d}', 'line\nbreak', 'tab\there', 'NULL', "o'clock", 'µ ≥ 3', '\u0001'];
    const collected = minute(30);
    const sample: Draft = { kind: 'sample', set: { visit: ids.visit, number: 'S-1', suites, collected } };
    const outcomes = await crew.push(...drafts, sample);
    expect(outcomes[2]).toMatchObject({ outcome: 'applied' });
    const { rows } = await db.bypass.query('select suites from sample where id = $1', [outcomes[2]?.id]);
    expect(rows).toEqual([{ suites }]);
  });
});
