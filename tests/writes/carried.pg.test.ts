import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { declareEpoch } from '../../src/store/backup/epochs.ts';
import type { Batch } from '../../src/writes/batch.ts';
import { deriveAgain } from '../../src/writes/derive-again.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { oneGroup } from '../support/one-group.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type TestClient, TestFirm } from '../support/test-firm.ts';
import { visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let office: TestClient;
/** A device of a crew that is assigned to nothing. */
const stranger = v7();

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  office = await firm.setUp();
  const crew = v7();
  await office.push(
    { kind: 'crew', id: crew, set: { name: 'Third crew' } },
    { kind: 'device', id: stranger, set: { label: 'Phone 3', crew } },
  );
});
afterAll(() => db.drop());

function pushOf(client: TestClient, drafts: readonly Draft[], more: Partial<Batch> = {}): Batch {
  const first = client.next;
  const lines = drafts.map((draft) => client.line(draft));
  return { ...batchOf(client.actor, client.id, first, lines), ...more };
}

/** The next lines of a client, as another token hands them in. */
async function copyOf(client: TestClient, drafts: readonly Draft[], by: TestClient): Promise<Batch> {
  return pushOf(client, drafts, { actor: by.actor, carried: true, schemaVersion: 3 });
}

async function clientRow(id: string) {
  const text = `select schema_version, unsent_count, unsent_oldest, difference_ms, pushed_at, last_mutation from client
where firm = $1 and id = $2`;
  return (await db.bypass.query(text, [firm.id, id])).rows[0];
}

async function stateOf(id: string) {
  const text = 'select state from ledger where firm = $1 and record = $2 order by rev desc limit 1';
  return (await db.bypass.query(text, [firm.id, id])).rows[0]?.state;
}

const UNSENT = { count: 3, oldest: '2026-05-04T09:00:00Z' };

it.each(['one group', 'two groups'])(
  '[W5] [W16] a copy says nothing of what its phone has unsent, of its app or when it was in touch: %s',
  async (how) => {
    const phone = await firm.client('crew', firm.ids.phone);
    const partner = await firm.client('crew', firm.ids.otherPhone);
    const { drafts } = visitDrafts(firm);
    const sent = { wall: new Date(firm.nowMs - 5_000).toISOString(), monotonicMs: 9, boot: v7() };
    const own = pushOf(phone, drafts.slice(0, 1), { unsent: UNSENT, sent, schemaVersion: 2 });
    const then = firm.nowMs;
    const carried = {
      ...(await copyOf(phone, drafts.slice(1, 2), partner)),
      sent: { ...sent, wall: '2020-01-01T00:00:00Z' },
    };
    if (how === 'one group') await oneGroup(firm, own, carried);
    else {
      await firm.lane(own);
      firm.nowMs += 60_000;
      await firm.lane(carried);
    }
    expect(await clientRow(phone.id)).toMatchObject({
      schema_version: 2,
      unsent_count: UNSENT.count,
      difference_ms: 5_000,
      last_mutation: 2,
    });
    const { unsent_oldest: oldest, pushed_at: pushed } = await clientRow(phone.id);
    expect([Date.parse(oldest), Date.parse(pushed)]).toEqual([Date.parse(UNSENT.oldest), then]);
  },
);

it('[W5] a client that only a copy named was never in touch itself', async () => {
  const phone = await firm.client('crew', firm.ids.phone);
  const partner = await firm.client('crew', firm.ids.otherPhone);
  const { drafts } = visitDrafts(firm);
  await firm.lane(await copyOf(phone, drafts.slice(0, 1), partner));
  expect(await clientRow(phone.id)).toMatchObject({ pushed_at: null, last_mutation: 1 });
  await firm.lane(pushOf(phone, drafts.slice(1, 2), { unsent: UNSENT }));
  expect(await clientRow(phone.id)).toMatchObject({ unsent_count: 3, last_mutation: 2, pushed_at: expect.anything() });
});

it.each(['one group', 'two groups'])(
  '[W16] [W5] an own first push and a copy of what comes after it are judged alike: %s',
  async (how) => {
    const phone = await firm.client('crew', firm.ids.phone);
    const partner = await firm.client('crew', stranger);
    const { drafts, ids } = visitDrafts(firm);
    const own = pushOf(phone, drafts.slice(0, 1));
    const carried = await copyOf(phone, drafts.slice(1, 2), partner);
    const all =
      how === 'one group' ? await oneGroup(firm, own, carried) : [await firm.lane(own), await firm.lane(carried)];
    expect(all.flatMap((answer) => phone.outcomes(answer))).toMatchObject([
      { outcome: 'applied' },
      { outcome: 'applied' },
    ]);
    expect(await stateOf(drafts[1]?.id ?? '')).toMatchObject({
      carriedBy: [{ device: stranger, right: false, rev: 1 }],
    });
    expect(await stateOf(ids.visit)).not.toHaveProperty('carriedBy');
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  },
);

/** One of each kind that a crew records in an event and at no visit, and the use of a unit at one. */
function besideVisits(visit: string): Draft[] {
  const { event, lone: well, north: crew, pump: unit } = firm.ids;
  const at = new Date(firm.nowMs).toISOString();
  const observed = firm.observed(at);
  const items = [{ item: 'ice', standing: 'ok' }];
  const sample = { collected: at, suites: ['metals'] };
  const [container, cooler] = [v7(), v7()];
  const bottle = { group: 'metals-total', type: 'bottle', volumeMl: '500', label: v7(), standing: 'filled' };
  return [
    { kind: 'well-claim', id: v7(), set: { event, well, crew, from: at, observed } },
    { kind: 'kit-check', id: v7(), set: { event, crew, items, observed } },
    { kind: 'blank', id: v7(), set: { event, type: 'field', number: v7(), ...sample } },
    { kind: 'container', id: container, set: { event, ...bottle } },
    { kind: 'fill', id: v7(), set: { container, collected: at, observed } },
    { kind: 'cooler', id: cooler, set: { event, number: 'C-1' } },
    { kind: 'seal', id: v7(), set: { cooler, number: '17', applied: at, observed } },
    { kind: 'unit-use', id: v7(), set: { visit, unit, how: 'down-the-well', from: at, observed } },
  ];
}

/** The ids of those that belong to no visit. */
function idsBeside(drafts: readonly Draft[]): string[] {
  return drafts.filter(({ kind }) => kind !== 'unit-use').map(({ id }) => id ?? '');
}

async function flagsOf(rule: string, ids: readonly string[]) {
  const text = `select l.state from head h join ledger l using (firm, feed, seq)
where h.firm = $1 and h.kind = 'flag' and not h.gone and l.state->'fields'->>'rule' = $2`;
  const { rows } = await db.bypass.query(text, [firm.id, rule]);
  const flags = rows.map(({ state }) => state).filter(({ fields }) => ids.includes(fields.subject));
  return flags as { id: string; rev: number; fields: Record<string, unknown> }[];
}

it('[W5] what a stranger carries is asked about also where it belongs to no visit, once, until somebody looked at it', async () => {
  const phone = await firm.client('crew', firm.ids.phone);
  const partner = await firm.client('crew', stranger);
  const { drafts, ids } = visitDrafts(firm);
  await firm.lane(pushOf(phone, drafts.slice(0, 1)));
  const beside = besideVisits(ids.visit);
  const [claim, , blank] = idsBeside(beside);
  const carried = await firm.lane(await copyOf(phone, beside, partner));
  expect(phone.outcomes(carried).map(({ outcome }) => outcome)).not.toContain('set_aside');
  const subjects = [...idsBeside(beside), ids.visit];
  const asked = await flagsOf('carried-without-right', subjects);
  expect(asked.map(({ fields }) => fields.subject).sort()).toEqual(subjects.toSorted());
  expect(asked.find(({ fields }) => fields.subject === claim)?.fields).toMatchObject({
    sentence: expect.stringMatching(
      /^A well claim of the event came as a copy, handed in by a device whose crew had no/,
    ),
    addressee: 'office',
    evidence: [{ record: claim, shows: `handed in by device ${stranger}` }],
  });
  expect(await recompute(db.pool, firm.id)).toEqual([]);
  const flag = asked.find(({ fields }) => fields.subject === blank);
  const review = {
    flag: flag?.id,
    evidenceHash: flag?.fields.evidenceHash,
    decision: 'no-action',
  };
  const observed = firm.observed(new Date(firm.nowMs).toISOString());
  expect((await office.push({ kind: 'flag-review', set: { ...review, observed } }))[0]).toMatchObject({
    outcome: 'applied',
  });
  await firm.lane(
    pushOf(phone, [{ verb: 'amend', kind: 'blank', id: blank ?? '', base: { rev: 1 }, set: { remark: 'dry' } }]),
  );
  expect((await flagsOf('carried-without-right', [blank ?? ''])).map(({ fields }) => fields.standing)).toEqual([
    'reviewed',
  ]);
  expect(await recompute(db.pool, firm.id)).toEqual([]);
  expect(await deriveAgain(db.pool, firm.id, () => new Date(firm.nowMs))).toEqual(new Map());
});

it('[E5] what came after the assignment had ended is asked about also where it belongs to no visit', async () => {
  const crew = await firm.client('crew', firm.ids.otherPhone);
  const { drafts, ids } = visitDrafts(firm);
  await firm.lane(pushOf(crew, drafts.slice(0, 1)));
  const text = 'select id from assignment where firm = $1 and crew = $2 and not voided';
  const [own] = (await db.bypass.query<{ id: string }>(text, [firm.id, firm.ids.south])).rows;
  firm.nowMs += 1_000;
  await office.push({ verb: 'void', kind: 'assignment', id: own?.id ?? '', reason: 'needed elsewhere' });
  const beside = besideVisits(ids.visit);
  await firm.lane(pushOf(crew, beside));
  const subjects = [...idsBeside(beside), ids.visit];
  const asked = await flagsOf('crew-no-longer-assigned', subjects);
  expect(asked.map(({ fields }) => fields.subject).sort()).toEqual(subjects.toSorted());
  expect(await recompute(db.pool, firm.id)).toEqual([]);
});

it('[W5] [W12] a copy that a coordinator released says whether whoever brought it had a right, and is asked about', async () => {
  // nobody knows whose phone it is: it is judged by whoever hands in the copy
  const phone = await firm.client('crew', firm.ids.phone);
  const partner = await firm.client('crew', stranger);
  const { drafts, ids } = visitDrafts(firm);
  const [outcome] = phone.outcomes(await firm.lane(await copyOf(phone, drafts.slice(0, 1), partner)));
  expect(outcome).toMatchObject({ outcome: 'set_aside', code: 'right_missing' });
  const release: Draft = { verb: 'release', kind: 'set-aside', id: outcome?.setAside ?? '' };
  expect((await office.push(release))[0]).toMatchObject({ outcome: 'applied' });
  expect(await stateOf(ids.visit)).toMatchObject({ carriedBy: [{ device: stranger, right: false, rev: 1 }] });
  expect(await flagsOf('carried-without-right', [ids.visit])).toHaveLength(1);
  expect(await recompute(db.pool, firm.id)).toEqual([]);
});

/** A visit of which two say different things, unseen by each other, and the conflict that comes of it. */
async function askedAbout(): Promise<{ conflict: { id: string; rev: number }; visit: string }> {
  const { drafts, ids } = visitDrafts(firm);
  const [first, second] = [await firm.client('crew', firm.ids.phone), await firm.client('crew', firm.ids.phone)];
  await firm.lane(pushOf(first, drafts.slice(0, 1)));
  await second.push(amending(ids.visit, 1, 'wet'));
  await office.push(amending(ids.visit, 1, 'dry'));
  const text = `select l.state from head h join ledger l using (firm, feed, seq)
where h.firm = $1 and h.kind = 'conflict' and not h.gone and h.parent = $2`;
  return { conflict: (await db.bypass.query(text, [firm.id, ids.visit])).rows[0]?.state, visit: ids.visit };
}

function deciding({ id, rev }: { id: string; rev: number }, value: string): Draft {
  return { verb: 'resolve', kind: 'conflict', id, base: { rev }, set: { value }, reason: 'asked both' };
}

it('[W5] a decision that a copy brought names who handed it in, on what it decides over too', async () => {
  const { conflict, visit } = await askedAbout();
  const coordinator = await firm.client('coordinator');
  const partner = await firm.client('coordinator', firm.ids.otherPhone);
  const answer = await firm.lane(await copyOf(coordinator, [deciding(conflict, 'wet')], partner));
  const [outcome] = coordinator.outcomes(answer);
  expect(outcome).toMatchObject({ outcome: 'applied', kind: 'resolution' });
  const carriedBy = [{ device: firm.ids.otherPhone, right: true }];
  expect(await stateOf(outcome?.id ?? '')).toMatchObject({ carriedBy });
  expect(await stateOf(visit)).toMatchObject({ fields: { outcomeReason: 'wet' }, carriedBy });
});

it('[W5] a token of no device is named itself, also on what waited', async () => {
  const phone = await firm.client('crew', firm.ids.phone);
  const { drafts, ids } = visitDrafts(firm);
  const [visit, ...others] = drafts;
  const before = pushOf(phone, []);
  const [early, late] = [others[0], visit];
  await firm.lane(before);
  await firm.lane(await copyOf(phone, [early as Draft], office));
  const carriedBy = [{ device: null, token: office.actor.token, right: true, rev: 1 }];
  await firm.lane(await copyOf(phone, [late as Draft], office));
  expect(await stateOf(ids.visit)).toMatchObject({ carriedBy });
  expect(await stateOf(early?.id ?? '')).toMatchObject({ carriedBy });
  expect(await flagsOf('carried-without-right', [ids.visit])).toEqual([]);
  await office.push({ verb: 'amend', kind: 'visit', id: ids.visit, base: { rev: 1 }, set: { outcomeReason: 'dry' } });
  expect(await stateOf(ids.visit)).toMatchObject({ rev: 2, carriedBy });
});

/** The place of the event's feed where it ends now, as a cursor would name it. */
async function placeNow() {
  const feed = `event:${firm.ids.event}`;
  const text = `select l.seq::int, i.epoch, encode(substring(l.history_hash from 1 for 8), 'hex') as history
from installation i cross join ledger l where l.firm = $1 and l.feed = $2 order by l.seq desc limit 1`;
  const { seq, epoch, history } = (await db.bypass.query(text, [firm.id, feed])).rows[0];
  return { feed, seq, epoch, history };
}

const amending = (id: string, rev: number, outcomeReason: string): Draft => {
  return { verb: 'amend', kind: 'visit', id, base: { rev }, set: { outcomeReason } };
};

it('[B9] a revision that is cited without its history is not believed once an epoch began; with it, it is', async () => {
  const phone = await firm.client('crew', firm.ids.phone);
  const partner = await firm.client('crew', firm.ids.otherPhone);
  const lost = await firm.client('crew', firm.ids.phone);
  const visits = Array.from({ length: 4 }, () => visitDrafts(firm));
  await phone.push(...visits.flatMap(({ drafts }) => drafts.slice(0, 1)));
  const [before = '', silent = '', told = '', released = ''] = visits.map(({ ids }) => ids.visit);
  const revoked = { ...lost.actor, revoked: true };
  const kept = lost.outcomes(
    await firm.lane(pushOf(lost, [amending(released, 1, 'of a lost phone')], { actor: revoked })),
  );
  for (const id of [silent, told, released]) await office.push(amending(id, 1, 'not seen'));
  const handIn = async (draft: Draft, more: Partial<Batch> = {}) => {
    return phone.outcomes(await firm.lane({ ...(await copyOf(phone, [draft], partner)), ...more }))[0];
  };
  expect(await handIn(amending(before, 1, 'carried'))).toMatchObject({ outcome: 'applied', rev: 2 });
  const owner = await db.owner();
  await declareEpoch(owner, new Date(firm.nowMs).toISOString());
  expect(await handIn(amending(silent, 2, 'carried'))).toMatchObject({ outcome: 'conflict_kept' });
  const seen = [await placeNow()];
  expect(await handIn(amending(told, 2, 'carried'), { seen })).toMatchObject({ outcome: 'applied', rev: 3 });
  const release = { verb: 'release', kind: 'set-aside', id: kept[0]?.setAside ?? '' };
  expect(await office.push(release)).toMatchObject([{ outcome: 'conflict_kept' }]);
  // a phone speaks for itself
  expect(await phone.push(amending(before, 2, 'own'))).toMatchObject([{ outcome: 'applied' }]);
});

it('[B9] [M8] neither is the revision of a conflict believed then: its decision is left to a person', async () => {
  const lost = await firm.client('coordinator', firm.ids.phone);
  const [coordinator, crew] = [
    await firm.client('coordinator', firm.ids.otherPhone),
    await firm.client('crew', firm.ids.otherPhone),
  ];
  const [carried, told, waiting] = [await askedAbout(), await askedAbout(), await askedAbout()];
  const handIn = async (conflict: { id: string; rev: number }, by: TestClient, seen?: Batch['seen']) => {
    const copy = await copyOf(lost, [deciding(conflict, 'wet')], by);
    return lost.outcomes(await firm.lane(seen ? { ...copy, seen } : copy))[0];
  };
  const kept = await handIn(waiting.conflict, crew);
  expect(kept).toMatchObject({ outcome: 'set_aside', code: 'right_missing' });
  const owner = await db.owner();
  await declareEpoch(owner, new Date(firm.nowMs).toISOString());
  expect(await handIn(carried.conflict, coordinator)).toMatchObject({ outcome: 'refused', code: 'conflict_changed' });
  expect(await stateOf(carried.visit)).toMatchObject({ fields: { outcomeReason: 'dry' } });
  const release: Draft = { verb: 'release', kind: 'set-aside', id: kept?.setAside ?? '' };
  expect((await office.push(release))[0]).toMatchObject({ outcome: 'refused', code: 'release_failed' });
  expect(await handIn(told.conflict, coordinator, [await placeNow()])).toMatchObject({ kind: 'resolution' });
});
