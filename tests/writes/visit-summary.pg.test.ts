import { v7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { recompute } from '../../src/writes/recompute.ts';
import { historyFaults } from '../support/history-check.ts';
import { oneGroup } from '../support/one-group.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, purgeDrafts, readingDraft } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let crew: TestClient;
let office: TestClient;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());
beforeEach(async () => {
  firm = new TestFirm(db.pool);
  await firm.setUp();
  crew = await firm.client('crew', firm.ids.phone);
  office = await firm.client('coordinator');
});

interface Row {
  readonly id: string;
  readonly rev: number;
  readonly feed: string;
  readonly gone: boolean;
  readonly parent: string;
  readonly state: { readonly fields: Readonly<Record<string, unknown>> } | null;
}

/** Where the summary of a visit is, or was. */
async function rows(visit: string): Promise<Row[]> {
  const { rows: found } = await db.bypass.query<Row>(
    `select h.id, h.rev, h.feed, h.gone, h.parent, l.state from head h join ledger l using (firm, feed, seq)
where h.firm = $1 and h.kind = 'visit-summary' and h.visit = $2 order by h.gone, h.feed`,
    [firm.id, visit],
  );
  return found;
}

const end = (visit: string): Draft => {
  return { verb: 'amend', kind: 'visit', id: visit, set: { outcome: 'sampled', left: minute(40) } };
};

async function endedVisit(): Promise<{ visit: string; purge: string; readings: string[] }> {
  const { ids, drafts } = purgeDrafts(firm);
  await crew.push(...drafts, end(ids.visit));
  return { ...ids, readings: drafts.slice(2).map((draft) => draft.id ?? '') };
}

async function expectSound(): Promise<void> {
  expect(await recompute(db.pool, firm.id)).toEqual([]);
  expect((await historyFaults(db.bypass, firm.id)).faults).toEqual([]);
}

describe('what a visit gave, beside its well', () => {
  it('[D7] comes with the end of the visit, in the feed of the site, and follows from the ledger', async () => {
    const { ids, drafts } = purgeDrafts(firm);
    await crew.push(...drafts);
    expect(await rows(ids.visit)).toEqual([]);
    await crew.push(end(ids.visit));
    const [row, ...others] = await rows(ids.visit);
    expect(others).toEqual([]);
    expect(row).toMatchObject({ rev: 1, feed: `site:${firm.ids.site}`, gone: false, parent: firm.ids.lone });
    expect(row?.state?.fields).toMatchObject({
      well: firm.ids.lone,
      visit: ids.visit,
      eventName: 'Spring round',
      outcome: 'sampled',
      flowMlPerMin: '200',
      ph: '7.01',
      stable: true,
    });
    await expectSound();
  });

  it('[D7] costs the site nothing while readings come into a visit that goes on', async () => {
    const { ids, drafts } = purgeDrafts(firm);
    const tail = async () => {
      const { rows: found } = await db.bypass.query(
        'select max(seq) as tail from ledger where firm = $1 and feed = $2',
        [firm.id, `site:${firm.ids.site}`],
      );
      return found;
    };
    const before = await tail();
    await crew.push(...drafts);
    await crew.push(readingDraft(firm, ids.purge, 25), readingDraft(firm, ids.purge, 30));
    expect(await tail()).toEqual(before);
  });

  it('[D7] is rewritten by a correction that it tells of, and by no other', async () => {
    const { visit, purge, readings } = await endedVisit();
    await crew.push({ verb: 'amend', kind: 'purge', id: purge, set: { remark: 'clear water' } });
    expect(await rows(visit)).toMatchObject([{ rev: 1 }]);
    const last = readings.at(-1) ?? '';
    await crew.push({ verb: 'amend', kind: 'reading', id: last, set: { ph: '7.06' }, reason: 'misread' });
    expect(await rows(visit)).toMatchObject([{ rev: 2, state: { fields: { ph: '7.06' } } }]);
    await office.push({ verb: 'amend', kind: 'event', id: firm.ids.event, set: { name: 'May round' } });
    expect(await rows(visit)).toMatchObject([{ rev: 3, state: { fields: { eventName: 'May round' } } }]);
    await expectSound();
  });

  it('[D7] [F7] goes with its visit to the well of another site: out of the one feed, into the other', async () => {
    const { visit } = await endedVisit();
    const [site, well] = [v7(), v7()];
    const set = { site, name: 'X-1', standing: 'in-service', depthsFrom: 'measuring-point' };
    await office.push({ kind: 'site', id: site, set: { name: 'Far Yard', timeZone: 'America/Chicago' } });
    await office.push({ kind: 'well', id: well, set });
    const move = (to: string): Draft => {
      return { verb: 'rehome', kind: 'visit', id: visit, set: { well: to }, reason: 'wrong well' };
    };
    await crew.push(move(firm.ids.deep));
    expect(await rows(visit)).toMatchObject([{ rev: 2, feed: `site:${firm.ids.site}`, parent: firm.ids.deep }]);
    await crew.push(move(well));
    expect(await rows(visit)).toMatchObject([
      { rev: 3, feed: `site:${site}`, gone: false, parent: well, state: { fields: { well } } },
      { feed: `site:${firm.ids.site}`, gone: true },
    ]);
    await expectSound();
    await crew.push(move(firm.ids.lone));
    expect((await rows(visit)).map(({ feed, gone }) => [feed, gone])).toEqual([
      [`site:${firm.ids.site}`, false],
      [`site:${site}`, true],
    ]);
    await expectSound();
  });

  it('[D7] [D3] goes away with a void and where the visit goes on, and comes back in its revisions', async () => {
    const { visit } = await endedVisit();
    const [first] = await rows(visit);
    await crew.push({ verb: 'amend', kind: 'visit', id: visit, set: { outcome: null, left: null } });
    expect(await rows(visit)).toMatchObject([{ gone: true }]);
    await crew.push(end(visit));
    expect(await rows(visit)).toMatchObject([{ id: first?.id, rev: 2, gone: false }]);
    await crew.push({ verb: 'void', kind: 'visit', id: visit, reason: 'entered twice' });
    expect(await rows(visit)).toMatchObject([{ gone: true }]);
    await expectSound();
  });

  it('[D7] [W16] is the same whether all came in one transaction, with its end first, or one by one', async () => {
    const { visit, purge } = await endedVisit();
    const [one] = await rows(visit);
    const next = purgeDrafts(firm);
    const [made, ...rest] = next.drafts;
    if (!made) throw new Error('a purge begins with its visit');
    const lines = [made, end(next.ids.visit), ...rest].map((draft) => crew.line(draft));
    await oneGroup(firm, batchOf(crew.actor, crew.id, crew.next - lines.length, lines));
    const [other] = await rows(next.ids.visit);
    expect({ ...other?.state?.fields, visit }).toEqual(one?.state?.fields);
    expect(purge).not.toBe(next.ids.purge);
    await expectSound();
  });

  it('[D6] that somebody tampered with is found', async () => {
    const { visit } = await endedVisit();
    const owner = await db.owner();
    await owner.query('alter table ledger disable trigger ledger_append_only');
    const text = `update ledger set state = replace(state::text, '"ph":"7.01"', '"ph":"7.10"')::json
where firm = $1 and kind = 'visit-summary'`;
    expect((await db.bypass.query(text, [firm.id])).rowCount).toBe(1);
    await owner.query('alter table ledger enable trigger ledger_append_only');
    await owner.end();
    const found = (await recompute(db.pool, firm.id)).filter(({ what }) => what === 'derived');
    expect(found).toMatchObject(
      [{ feed: `site:${firm.ids.site}`, kind: 'visit-summary', detail: /in ph$/ }].map((one) => ({
        ...one,
        detail: expect.stringMatching(one.detail),
      })),
    );
    expect(await rows(visit)).toHaveLength(1);
  });
});
