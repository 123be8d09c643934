import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { purge } from '../../src/protocol/kinds/purge.ts';
import { SCHEMA_VERSION } from '../../src/protocol/version.ts';
import { recordHistoryExport } from '../../src/reads/history-export.ts';
import type { ReadContext } from '../../src/reads/read-context.ts';
import { compact } from '../../src/writes/compact.ts';
import { readCsv } from '../documents/read-csv.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { batchOf, type Draft, type TestClient } from '../support/test-firm.ts';
import { minute, purgeDrafts, readingDraft } from '../support/visit-drafts.ts';
import { type ExportedEntry, hashOf, rebuilt } from './history-check.ts';
import { statementsOf } from './statements.ts';

interface Export {
  readonly about: { kind: string; id: string };
  readonly entries: ExportedEntry[];
  readonly count: number;
}

let server: TestApp;
let admin: TestClient;
let secret: string;
const otherEvent = v7();

beforeAll(async () => {
  server = await testApp();
  secret = await server.token('admin');
  admin = await server.firm.client('admin', server.firm.ids.phone);
  const { site } = server.firm.ids;
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site, name: 'Autumn round', starts: '2026-10-05', ends: '2026-10-06', standing: 'open', plan };
  await admin.push({ kind: 'event', id: otherEvent, set });
});
afterAll(() => server.close());

async function get(path: string, by = secret) {
  const answer = await server.app.inject({ url: `/v1${path}`, headers: { authorization: `Bearer ${by}` } });
  return answer;
}

async function exported(path: string): Promise<Export> {
  const answer = await get(path);
  expect(answer.statusCode).toBe(200);
  return JSON.parse(answer.body) as Export;
}

async function ledgerRows(ids: readonly string[]): Promise<number> {
  const { rows } = await server.db.bypass.query('select count(*)::int as n from ledger where record = any($1)', [ids]);
  return rows[0].n as number;
}

const BASE = { was: { ph: '7.01' } };

/** A reading that is corrected, contradicted, decided, voided and counted again. */
async function eventfulReading() {
  const { ids, drafts } = purgeDrafts(server.firm);
  const draft = readingDraft(server.firm, ids.purge, 25);
  const id = draft.id ?? '';
  await admin.push(...drafts, draft);
  const other = await server.firm.client('coordinator');
  const amend = (ph: string, reason: string) => ({
    kind: 'reading',
    verb: 'amend',
    id,
    base: BASE,
    set: { ph },
    reason,
  });
  await admin.push(amend('7.10', 'misread'));
  const [clash] = await other.push(amend('7.20', 'looked again'));
  const conflict = clash?.conflicts?.[0] ?? '';
  await admin.push({
    kind: 'conflict',
    verb: 'resolve',
    id: conflict,
    base: { rev: 1 },
    set: { value: '7.10' },
    reason: 'photo',
  });
  await admin.push({ kind: 'reading', verb: 'void', id, base: { rev: 4 }, reason: 'entered twice' });
  await admin.push({
    kind: 'reading',
    verb: 'amend',
    id,
    base: { rev: 5 },
    set: { remark: '=1+1, "no"' },
    reason: '-',
  });
  return { id, conflict, ...ids };
}

describe('the history of one record as a file', () => {
  it('[H1] has every row of the ledger about it, about the conflicts over it and their decisions, with who and why', async () => {
    const { id, conflict } = await eventfulReading();
    const { about, entries, count } = await exported(`/readings/${id}/history/export`);
    expect(about).toEqual({ kind: 'reading', id });
    expect(count).toBe(entries.length);
    const own = entries.filter((one) => one.id === id);
    expect(own.map(({ act }) => act)).toEqual(['recorded', 'corrected', 'corrected', 'decided', 'voided', 'corrected']);
    expect(own.map(({ rev }) => rev)).toEqual([1, 2, 3, 4, 5, 6]);
    expect(own.map(({ reason }) => reason)).toEqual([null, 'misread', 'looked again', 'photo', 'entered twice', '-']);
    expect(own[1]).toMatchObject({ byName: 'Ann Reader', device: { label: 'Phone 1' } });
    expect(own[2]?.device).toBeNull();
    expect(own.slice(1, 4).map(({ changes }) => changes)).toEqual([
      [{ field: 'ph', was: '7.01', is: '7.10' }],
      [{ field: 'ph', was: '7.10', is: '7.20' }],
      [{ field: 'ph', was: '7.20', is: '7.10' }],
    ]);
    expect(own[4]?.changes).toMatchObject([{ field: 'voided', is: { reason: 'entered twice' } }]);
    const clash = entries.filter((one) => one.id === conflict);
    expect(clash.map(({ act }) => act)).toEqual(['derived', 'derived-anew']);
    expect(clash[0]?.record?.fields).toMatchObject({ kept: [{ value: '7.10' }], shown: { value: '7.20' } });
    const decision = entries.find(({ kind }) => kind === 'resolution');
    expect(decision?.record?.fields).toMatchObject({ value: '7.10', over: ['7.20'], reason: 'photo' });
    expect(own[3]?.decision).toBe(decision?.id);
    expect(entries.length).toBe(await ledgerRows([id, conflict, decision?.id ?? '']));
  });

  it('[H2] carries what it takes to compute each history hash anew, without the server', async () => {
    const { visit } = await eventfulReading();
    const { entries } = await exported(`/visits/${visit}/whole-history`);
    expect(entries.length).toBeGreaterThan(20);
    for (const entry of entries) expect(hashOf(entry)).toBe(entry.historyHash);
    const changed = entries.map((one) => ({ ...one, seq: one.seq + 1 }));
    expect(changed.filter((one) => hashOf(one) === one.historyHash)).toEqual([]);
    const { rows } = await server.db.bypass.query(
      `select encode(history_hash, 'hex') as hash from ledger where feed = $1 and seq = any($2) order by seq`,
      [entries[0]?.feed, entries.map(({ seq }) => seq)],
    );
    expect(entries.map(({ historyHash }) => historyHash)).toEqual(rows.map(({ hash }) => hash));
  });

  it('[H3] keeps every old value readable: the changes alone give each record as it stands', async () => {
    const { visit, id } = await eventfulReading();
    const { entries } = await exported(`/visits/${visit}/whole-history`);
    const last = new Map(entries.map((one) => [one.id, one.record]));
    for (const [record, fields] of rebuilt(entries)) {
      const state = last.get(record);
      if (!state) continue;
      expect(fields).toEqual({ ...state.fields, ...(state.voided === null ? {} : { voided: state.voided }) });
    }
    expect(
      entries.filter((one) => one.id === id).flatMap(({ changes }) => changes.flatMap(({ was }) => was ?? [])),
    ).toEqual(expect.arrayContaining(['7.01', '7.10', '7.20']));
  });

  it('[H4] has one line a changed value as CSV, and no text of a person becomes a formula', async () => {
    const { id } = await eventfulReading();
    const answer = await get(`/readings/${id}/history/export?format=csv`);
    expect(answer.headers['content-type']).toContain('text/csv');
    expect(answer.headers['content-disposition']).toContain(`reading-${id}-history.csv`);
    const [head = [], ...lines] = readCsv(answer.body);
    const end = lines.pop() ?? [];
    const { count } = await exported(`/readings/${id}/history/export`);
    expect(Object.fromEntries(head.map((name, at) => [name, end[at]]).filter(([, cell]) => cell !== ''))).toEqual({
      act: 'end',
      field: 'entries',
      is: String(count),
    });
    const rows = lines.map((line) => Object.fromEntries(head.map((name, at) => [name, line[at]])));
    const ph = rows.filter((row) => row.record === id && row.field === 'ph');
    expect(ph.map(({ was, is }) => [was, is])).toEqual([
      ['', '7.01'],
      ['7.01', '7.10'],
      ['7.10', '7.20'],
      ['7.20', '7.10'],
    ]);
    expect(ph[1]).toMatchObject({
      by: 'Ann Reader',
      reason: 'misread',
      read_by: 'Ann Reader',
      written_by: 'Bob Writer',
    });
    expect(ph[1]).toMatchObject({ act: 'corrected', device: 'Phone 1', observed_at: minute(25) });
    // when it was seen is a column; a line of its own only where it was changed
    const seen = rows.filter((row) => row.record === id && row.field?.startsWith('observed.'));
    expect(seen.map(({ was }) => was)).not.toContain('');
    const remark = rows.find(({ field }) => field === 'remark');
    expect(remark).toMatchObject({ is: `'=1+1, "no"`, reason: "'-" });
    expect(rows.every(({ history_hash: hash }) => /^[0-9a-f]{64}$/.test(hash ?? ''))).toBe(true);
  });
});

describe('the history of a visit with everything under it', () => {
  it('[H5] follows it to another well and event, tells what was derived and withdrawn, also once feeds forgot it', async () => {
    const { lone, deep } = server.firm.ids;
    const { ids, drafts } = purgeDrafts(server.firm);
    const slip = readingDraft(server.firm, ids.purge, 25, { ph: '71.0' });
    await admin.push(...drafts, slip);
    await admin.push({ kind: 'reading', verb: 'void', id: slip.id ?? '', base: { rev: 1 }, reason: 'no reading' });
    await admin.push({
      kind: 'visit',
      verb: 'rehome',
      id: ids.visit,
      base: { rev: 1 },
      set: { well: deep },
      reason: 'tag read',
    });
    const to = { event: otherEvent };
    await admin.push({
      kind: 'visit',
      verb: 'rehome',
      id: ids.visit,
      base: { rev: 2 },
      set: to,
      reason: 'wrong round',
    });
    const before = await exported(`/visits/${ids.visit}/whole-history`);
    const acts = new Set(before.entries.map(({ act }) => act));
    const told = ['recorded', 'voided', 're-homed', 'moved-along', 'left-feed', 'derived', 'derived-anew', 'withdrawn'];
    expect([...acts].sort()).toEqual(told.sort());
    const moves = before.entries.filter(({ act }) => act === 're-homed');
    expect(moves[0]?.changes).toEqual([{ field: 'well', was: lone, is: deep, wasName: 'W-1', isName: 'W-4D' }]);
    expect(moves[1]?.changes).toMatchObject([{ field: 'event', wasName: 'Spring round', isName: 'Autumn round' }]);
    for (const entry of before.entries) expect(hashOf(entry)).toBe(entry.historyHash);
    const now = () => new Date(server.firm.nowMs + 1);
    const { rows } = await server.db.bypass.query('select count(*)::int as n from head where visit = $1', [ids.visit]);
    await compact(server.db.pool, server.firm.id, { before: new Date(server.firm.nowMs + 1), now });
    const { rows: left } = await server.db.bypass.query('select count(*)::int as n from head where visit = $1', [
      ids.visit,
    ]);
    expect(left[0].n).toBeLessThan(rows[0].n);
    expect((await exported(`/visits/${ids.visit}/whole-history`)).entries).toEqual(before.entries);
  });

  it('[H5] has what was asked about equipment at a visit and withdrawn since, also once feeds forgot it', async () => {
    const { otherPump: unit } = server.firm.ids;
    const { ids, drafts } = purgeDrafts(server.firm);
    const use = v7();
    const observed = server.firm.observed(minute(5));
    const set = { visit: ids.visit, unit, how: 'down-the-well', from: minute(5), observed };
    await admin.push(...drafts, { kind: 'unit-use', id: use, set });
    await admin.push({ kind: 'unit-use', verb: 'void', id: use, base: { rev: 1 }, reason: 'never went down' });
    await compact(server.db.pool, server.firm.id, {
      before: new Date(server.firm.nowMs + 1),
      now: () => new Date(server.firm.nowMs + 1),
    });
    const { entries } = await exported(`/visits/${ids.visit}/whole-history`);
    const flags = entries.filter(({ record }) => record?.fields.unit === unit && record.fields.rule !== undefined);
    expect(flags.map(({ record }) => record?.fields.rule)).toEqual(['unit-not-known-clean']);
    const acts = entries.filter(({ id }) => id === flags[0]?.id).map(({ act }) => act);
    expect(acts).toEqual(['derived', 'withdrawn']);
  });

  it('[H5] [V3] has the conflict over a field that only a newer version knows too, once nobody is told of it any more', async () => {
    const { ids, drafts } = purgeDrafts(server.firm);
    await admin.push(...drafts);
    const other = await server.firm.client('coordinator');
    const newer = async (client: TestClient, draft: Omit<Draft, 'kind'>) => {
      const lines = [client.line({ kind: 'purge', verb: 'amend', id: ids.purge, ...draft })];
      const batch = batchOf(client.actor, client.id, client.next - 1, lines);
      const version = SCHEMA_VERSION + 1;
      const given = { ...batch, schemaVersion: version, lines: batch.lines.map((line) => ({ ...line, version })) };
      return client.outcomes(await server.firm.lane(given));
    };
    await newer(admin, { base: { rev: 1 }, set: { sleeveFt: '1' } });
    const [clash] = await newer(other, { base: { rev: 1 }, set: { sleeveFt: '2' } });
    const conflict = clash?.conflicts?.[0];
    expect(clash).toMatchObject({ outcome: 'conflict_kept', rev: 3 });
    // whose value was kept gives the one that is shown
    await newer(admin, { base: { rev: 3 }, set: { sleeveFt: '2' } });
    const paths = [`/purges/${ids.purge}/history/export`, `/visits/${ids.visit}/whole-history`];
    const before = [];
    for (const path of paths) before.push((await exported(path)).entries);
    for (const entries of before) {
      expect(entries.filter(({ id }) => id === conflict).map(({ act }) => act)).toEqual(['derived', 'withdrawn']);
    }
    const now = () => new Date(server.firm.nowMs + 1);
    await compact(server.db.pool, server.firm.id, { before: new Date(server.firm.nowMs + 1), now });
    const { rowCount } = await server.db.bypass.query('select 1 from head where id = $1', [conflict]);
    expect(rowCount).toBe(0);
    for (const [index, path] of paths.entries()) expect((await exported(path)).entries).toEqual(before[index]);
  });

  it('[H5] tells each feed in the order of its numbers, and one transaction after the other', async () => {
    const { visit } = await eventfulReading();
    const { entries } = await exported(`/visits/${visit}/whole-history`);
    const seqs = entries.filter(({ feed }) => feed.startsWith('event:')).map(({ seq }) => seq);
    expect(seqs).toEqual([...seqs].sort((a, b) => a - b));
    expect(entries.at(0)).toMatchObject({ kind: 'visit', act: 'recorded' });
  });

  it('[H6] takes the same few statements a page and the same memory, however long it is', async () => {
    const { ids, drafts } = purgeDrafts(server.firm);
    await admin.push(...drafts);
    const amend = (at: number) => ({ kind: 'purge', verb: 'amend', id: ids.purge, set: { remark: `remark ${at}` } });
    const REVISIONS = 10_000;
    for (let at = 0; at < REVISIONS; at += 500) {
      await admin.push(...Array.from({ length: 500 }, (_, more) => amend(at + more)));
    }
    const began = performance.now();
    const { result, sent } = await statementsOf(() => get(`/purges/${ids.purge}/history/export?format=csv`));
    const tookMs = performance.now() - began;
    expect(readCsv(result.body).length).toBeGreaterThan(REVISIONS);
    // a page of 500 takes its rows, their devices and what they name; a few statements come before the first
    expect(sent.length).toBeLessThan(3 * Math.ceil(REVISIONS / 500) + 12);
    expect(tookMs).toBeLessThan(10_000);
    const reader = await server.firm.actor('admin');
    const pages = await recordHistoryExport({ pool: server.db.pool } as ReadContext, reader, purge, ids.purge);
    for await (const page of pages) expect(page.length).toBeLessThanOrEqual(500);
    const whole = await exported(`/visits/${ids.visit}/whole-history`);
    expect(whole.count).toBeGreaterThan(REVISIONS);
    for (const entry of whole.entries.slice(-50)) expect(hashOf(entry)).toBe(entry.historyHash);
  }, 120_000);

  it('[H7] is given to nobody who may not read the record', async () => {
    const { visit } = await eventfulReading();
    const { event, south, otherPhone } = server.firm.ids;
    const crew = await server.token('crew', otherPhone);
    expect((await get(`/visits/${visit}/whole-history`, crew)).statusCode).toBe(200);
    const { rows } = await server.db.bypass.query('select id from assignment where crew = $1', [south]);
    for (const { id } of rows) {
      await admin.push({ kind: 'assignment', verb: 'void', id, base: { rev: 1 }, reason: 'other work' });
    }
    expect(event).toBeTruthy();
    for (const path of [`/visits/${visit}/whole-history`, `/visits/${visit}/history/export?format=csv`]) {
      const answer = await get(path, crew);
      expect([answer.statusCode, answer.json().code]).toEqual([404, 'record_missing']);
    }
    expect((await get(`/visits/${v7()}/whole-history`)).statusCode).toBe(404);
    expect((await get(`/readings/${visit}/history/export`)).statusCode).toBe(404);
    expect((await get(`/visits/${visit}/whole-history?format=pdf`)).statusCode).toBe(400);
  });
});
