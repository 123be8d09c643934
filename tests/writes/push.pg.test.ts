import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makePool } from '../../src/store/pool.ts';
import type { Answer } from '../../src/writes/batch.ts';
import { type Lane, openLane } from '../../src/writes/lane.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { cutProxy } from '../support/cut-proxy.ts';
import { historyFaults } from '../support/history-check.ts';
import { oneGroup } from '../support/one-group.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, TestClient, TestFirm } from '../support/test-firm.ts';
import { testLog } from '../support/test-log.ts';
import { minute, purgeDrafts, readingDraft, visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let crew: TestClient;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
  crew = await firm.client('crew', firm.ids.phone);
});
afterAll(() => db.drop());

function texts(answer: Answer): readonly string[] {
  if (answer.status !== 'answered') throw new Error(`answered ${JSON.stringify(answer)}`);
  return answer.outcomes;
}

async function effect(client: string): Promise<unknown> {
  const { rows } = await db.bypass.query(
    `select (select count(*) from receipt where client = $1) as receipts,
  (select count(*) from ledger where client = $1) as changes,
  (select last_mutation from client where id = $1) as last,
  (select count(distinct record) from ledger where client = $1) as records`,
    [client],
  );
  return rows[0];
}

/** Lines of a purge with a correction and an unreadable one, so that every sort of outcome is among them. */
function lines(client: TestClient): string[] {
  const { drafts } = purgeDrafts(firm);
  const last = drafts.at(-1);
  const amend = { verb: 'amend', kind: 'reading', id: last?.id ?? '', base: { after: client.next + 5 } };
  const all = [...drafts, { ...amend, set: { ph: '7.02' }, reason: 'misread' }];
  return [...all.map((draft) => client.line(draft)), `{"mutationId":${client.next++},"verb":"record"`];
}

describe('a push that is sent again', () => {
  it('[W2] has one effect and one answer, however often one process gets it at once', async () => {
    const client = await firm.client('crew', firm.ids.phone);
    const batch = batchOf(client.actor, client.id, 1, lines(client));
    for (const times of [1, 2, 20]) {
      const answers = await Promise.all(Array.from({ length: times }, () => firm.lane(batch)));
      expect(new Set(answers.map((answer) => JSON.stringify(texts(answer)))).size).toBe(1);
    }
    expect(await effect(client.id)).toEqual({ receipts: 8, changes: 7, last: 8, records: 6 });
  });

  it('[W2] has one effect and one answer through several processes at once', async () => {
    const now = () => new Date(firm.nowMs);
    const lanes = Array.from({ length: 4 }, (): Lane => openLane({ pool: db.pool, now, committed: () => undefined }));
    for (let times = 1; times <= 20; times += process.env.LONG ? 1 : 6) {
      const client = await firm.client('crew', firm.ids.phone);
      const batch = batchOf(client.actor, client.id, 1, lines(client));
      const turns = Array.from({ length: times }, (_, turn) => (lanes[turn % 4] ?? firm.lane)(batch));
      const answers = await Promise.all(turns);
      expect(new Set(answers.map((answer) => JSON.stringify(texts(answer)))).size).toBe(1);
      expect(answers.filter((answer) => answer.status === 'answered' && answer.repeated === 0)).toHaveLength(1);
      expect(await effect(client.id)).toEqual({ receipts: 8, changes: 7, last: 8, records: 6 });
    }
  });

  it('[W2] is answered from where it was known on, where parts of it arrived before', async () => {
    const client = await firm.client('crew', firm.ids.phone);
    const all = lines(client);
    const push = async (from: number, to: number) =>
      texts(await firm.lane(batchOf(client.actor, client.id, from, all.slice(from - 1, to))));
    const first = await push(1, 3);
    const whole = await push(1, 8);
    expect(whole.slice(0, 3)).toEqual(first);
    expect(await push(3, 6)).toEqual(whole.slice(2, 6));
    expect(await effect(client.id)).toMatchObject({ receipts: 8, changes: 7, last: 8 });
  });

  it.each(['after-commit', 'before-commit'] as const)(
    '[W2] has one effect where the connection is cut %s',
    async (cut) => {
      const proxy = await cutProxy(db.config);
      const pool = makePool(proxy.config, testLog, 2);
      try {
        const lane = openLane({ pool, now: () => new Date(firm.nowMs), committed: () => undefined });
        const client = await firm.client('crew', firm.ids.phone);
        const batch = batchOf(client.actor, client.id, 1, lines(client));
        proxy.arm(cut, 1);
        const answer = await lane(batch);
        expect(proxy.cuts()).toBe(1);
        expect(answer).toMatchObject({ status: 'answered', repeated: cut === 'after-commit' ? 8 : 0 });
        expect(texts(await firm.lane(batch))).toEqual(texts(answer));
        expect(await effect(client.id)).toEqual({ receipts: 8, changes: 7, last: 8, records: 6 });
      } finally {
        await pool.end();
        await proxy.close();
      }
    },
  );

  it('[W2] is given up where every try is cut, and finds what became of it when asked again', async () => {
    const proxy = await cutProxy(db.config);
    const pool = makePool(proxy.config, testLog, 2);
    try {
      const lane = openLane({ pool, now: () => new Date(firm.nowMs), committed: () => undefined });
      const client = await firm.client('crew', firm.ids.phone);
      const batch = batchOf(client.actor, client.id, 1, lines(client));
      proxy.arm('before-commit', 20);
      await expect(lane(batch)).rejects.toThrow(/connection/i);
      expect(await effect(client.id)).toEqual({ receipts: 0, changes: 0, last: null, records: 0 });
      proxy.arm('before-commit', 0);
      expect(texts(await lane(batch))).toHaveLength(8);
      expect(await effect(client.id)).toEqual({ receipts: 8, changes: 7, last: 8, records: 6 });
    } finally {
      await pool.end();
      await proxy.close();
    }
  });
});

describe('the numbers of a client', () => {
  it('[W3] with other bytes under a number that was taken is told so, and changes nothing', async () => {
    const client = await firm.client('crew', firm.ids.phone);
    const { drafts } = visitDrafts(firm);
    const first = drafts.map((draft) => client.line(draft));
    await firm.lane(batchOf(client.actor, client.id, 1, first));
    const other = [first[0] ?? '', `${first[1]} `, client.line({ kind: 'crew', set: { name: 'x' } })];
    const answer = await firm.lane(batchOf(client.actor, client.id, 1, other));
    expect(answer).toEqual({ status: 'reused', mutation: 2 });
    expect(await effect(client.id)).toMatchObject({ receipts: 2, last: 2 });
  });

  it('[W3] is told so as well where both arrive at once', async () => {
    const client = await firm.client('crew', firm.ids.phone);
    const one = client.line({ kind: 'visit', set: visitDrafts(firm).drafts[0]?.set ?? {} });
    const answers = await oneGroup(
      firm,
      ...[one, `${one} `].map((line) => batchOf(client.actor, client.id, 1, [line])),
    );
    expect(answers.map((answer) => answer.status)).toEqual(['answered', 'reused']);
  });

  it('[W4] with a gap is told from where to send, and changes nothing', async () => {
    const client = await firm.client('crew', firm.ids.phone);
    const { drafts } = visitDrafts(firm);
    client.next = 3;
    const gap = await firm.lane(batchOf(client.actor, client.id, 3, [client.line(drafts[0] ?? { kind: 'visit' })]));
    expect(gap).toEqual({ status: 'gap', expected: 1 });
    expect(await effect(client.id)).toEqual({ receipts: 0, changes: 0, last: null, records: 0 });
  });

  it('[W5] belongs to one token, also where two tokens come with it at once, unless it is carried', async () => {
    const one = await firm.client('crew', firm.ids.phone);
    const other = await firm.actor('crew', firm.ids.otherPhone);
    const first = [one.line({ kind: 'visit', set: visitDrafts(firm).drafts[0]?.set ?? {} })];
    const second = [one.line({ kind: 'visit', set: visitDrafts(firm).drafts[0]?.set ?? {} })];
    const answers = await oneGroup(firm, batchOf(one.actor, one.id, 1, first), batchOf(other, one.id, 2, second));
    expect(answers.map((answer) => answer.status)).toEqual(['answered', 'client_of_other']);
    const carried = await firm.lane({ ...batchOf(other, one.id, 2, second), carried: true });
    expect(carried).toMatchObject({ status: 'answered', lastMutation: 2 });
    expect(await firm.lane(batchOf(one.actor, one.id, 2, second))).toMatchObject({ repeated: 1 });
    const revoked = { ...batchOf({ ...other, revoked: true }, one.id, 3, second), carried: true };
    expect(await firm.lane(revoked)).toEqual({ status: 'client_of_other', mutation: 3 });
    const again = { ...batchOf({ ...one.actor, token: other.token, revoked: true }, one.id, 1, first) };
    expect(await firm.lane(again)).toEqual({ status: 'client_of_other', mutation: 1 });
  });
});

describe('the lines of a client in the hands of another device', () => {
  it('[W2] [W5] are answered as they were where all were received, at once with them too, and claim nothing', async () => {
    const one = await firm.client('crew', firm.ids.phone);
    const other = await firm.actor('crew', firm.ids.otherPhone);
    const visit = () => one.line({ kind: 'visit', set: visitDrafts(firm).drafts[0]?.set ?? {} });
    const lines = [visit(), visit(), visit()];
    const [own, copy] = await oneGroup(
      firm,
      batchOf(one.actor, one.id, 1, lines.slice(0, 2)),
      batchOf(other, one.id, 1, lines.slice(0, 2)),
    );
    expect(copy).toEqual({ ...own, repeated: 2 });
    const kept = await effect(one.id);
    expect(await firm.lane(batchOf(other, one.id, 1, lines))).toEqual({ status: 'client_of_other', mutation: 3 });
    expect(await firm.lane(batchOf(other, one.id, 2, lines.slice(1, 2)))).toMatchObject({
      repeated: 1,
      lastMutation: 2,
    });
    expect(await firm.lane(batchOf(other, one.id, 2, [`${lines[1]} `]))).toMatchObject({ mutation: 2 });
    expect(await effect(one.id)).toEqual(kept);
    expect(await firm.lane(batchOf(one.actor, one.id, 3, lines.slice(2)))).toMatchObject({ lastMutation: 3 });
  });
});

describe('mutations of one push', () => {
  it('[W6] are decided in order, each against all before it', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const amend = (set: object, base: object) => ({
      verb: 'amend',
      kind: 'visit',
      id: ids.visit,
      base,
      set: { ...set },
    });
    const first = crew.next;
    const outcomes = await crew.push(
      ...drafts,
      amend({ outcome: 'sampled' }, { after: first }),
      amend({ outcome: 'dry', left: minute(60) }, { after: first + 2 }),
    );
    expect(outcomes.map((one) => [one.outcome, one.rev])).toEqual([
      ['applied', 1],
      ['applied', 1],
      ['applied', 2],
      ['applied', 3],
    ]);
    const { rows } = await db.bypass.query('select rev, outcome, "left" from visit where id = $1', [ids.visit]);
    expect(rows).toEqual([{ rev: 3, outcome: 'dry', left: '2026-05-04T11:00:00Z' }]);
  });

  it('[W7] may build on what the client wrote before and has not pulled, and supersede nothing that it had not seen', async () => {
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...drafts);
    const office = await firm.client('coordinator');
    const amend = (base: object, set: object) => ({
      verb: 'amend',
      kind: 'visit',
      id: ids.visit,
      base,
      set: { ...set },
    });
    const number = crew.next;
    const [own] = await crew.push(amend({ rev: 1 }, { outcome: 'sampled' }));
    const [theirs] = await office.push(amend({ rev: 1 }, { outcomeReason: 'of the office' }));
    const [later] = await crew.push(amend({ after: number }, { outcomeReason: 'of the crew' }));
    expect([own?.outcome, theirs?.outcome, later?.outcome]).toEqual(['applied', 'merged', 'conflict_kept']);
  });

  it('[W7] that builds on a mutation about another record, or a later one, has seen nothing of this one', async () => {
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...drafts);
    const office = await firm.client('coordinator');
    const remark = (client: TestClient, base: object, text: string) =>
      client.push({ verb: 'amend', kind: 'purge', id: ids.purge, base, set: { remark: text } });
    await remark(office, { rev: 1 }, 'of the office');
    await office.push({ verb: 'amend', kind: 'purge', id: ids.purge, base: { rev: 2 }, set: { ended: minute(50) } });
    const number = crew.next;
    await crew.push({ verb: 'amend', kind: 'visit', id: ids.visit, base: { rev: 1 }, set: { outcome: 'dry' } });
    await crew.push({ verb: 'amend', kind: 'visit', id: ids.visit, base: { rev: 2 }, set: { outcome: 'sampled' } });
    const [outcome] = await remark(crew, { after: number + 1 }, 'of the crew');
    expect(outcome).toMatchObject({ outcome: 'conflict_kept' });
    const [ahead] = await remark(crew, { after: crew.next + 5 }, 'once more');
    expect(ahead).toMatchObject({ outcome: 'conflict_kept' });
  });

  it('[W8] may come before the record that they name: applied with it, under their own numbers', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const outcomes = await crew.push(readingDraft(firm, ids.purge, 5), ...drafts.toReversed());
    expect(outcomes.map((one) => one.outcome)).toEqual(['applied', 'applied', 'applied']);
  });

  it('[W16] have the same effect whether they come one by one or in one transaction', async () => {
    const states = [];
    for (const together of [true, false]) {
      const own = new TestFirm(db.pool);
      await own.setUp();
      const phone = await own.client('crew', own.ids.phone);
      const { ids, drafts } = purgeDrafts(own);
      const corrected = drafts[3];
      const ph = (value: string, base: object) => {
        return { verb: 'amend', kind: 'reading', id: corrected?.id ?? '', base, set: { ph: value }, reason: 'misread' };
      };
      const all = [...drafts, ph('7.3', { after: 4 }), ph('7.02', { after: 7 })];
      if (together) await phone.push(...all);
      else for (const draft of all) await phone.push(draft);
      const { rows } = await db.bypass.query('select stable, first_held_at from assessment where purge = $1', [
        ids.purge,
      ]);
      states.push(rows);
      expect(await recompute(db.pool, own.id)).toEqual([]);
    }
    expect(states[0]).toEqual(states[1]);
  });
});

describe('processes that take turns', () => {
  it('[W16] each see what the others wrote, whatever they remember of it', async () => {
    const own = new TestFirm(db.pool);
    await own.setUp();
    const now = () => new Date(own.nowMs);
    const lanes = Array.from({ length: 3 }, () => openLane({ pool: db.pool, now, committed: () => undefined }));
    const actor = await own.actor('coordinator', own.ids.phone, own.ids.ann);
    const clients = lanes.map((lane) => new TestClient(actor, lane));
    const { ids, drafts } = purgeDrafts(own);
    await clients[0]?.push(...drafts);
    const reading = drafts.at(-1)?.id ?? '';
    const revs = new Map([
      [reading, 1],
      [ids.visit, 1],
      [ids.purge, 1],
    ]);
    const wells = [own.ids.deep, own.ids.shallow, own.ids.lone];
    for (let turn = 0; turn < 24; turn++) {
      const kind = (['reading', 'visit', 'purge'] as const)[Math.floor(turn / 3) % 3] ?? 'reading';
      const id = { reading, visit: ids.visit, purge: ids.purge }[kind];
      const rev = revs.get(id) ?? 0;
      const sets = {
        reading: { ph: `7.${10 + turn}` },
        visit: { well: wells[turn % 3] },
        purge: { remark: `${turn}` },
      };
      const change = {
        verb: kind === 'visit' ? 'rehome' : 'amend',
        kind,
        id,
        base: { rev },
        set: sets[kind],
        reason: 'x',
      };
      const outcomes = await clients[turn % 3]?.push(change, readingDraft(own, ids.purge, 30 + turn));
      expect(outcomes).toMatchObject([{ outcome: 'applied', rev: rev + 1 }, { outcome: 'applied' }]);
      revs.set(id, rev + 1);
    }
    expect(await recompute(db.pool, own.id)).toEqual([]);
    expect((await historyFaults(db.bypass, own.id)).faults).toEqual([]);
  });
});

describe('several firms', () => {
  it('[W17] do not see, name or reach each other', async () => {
    const other = new TestFirm(db.pool);
    await other.setUp();
    const foreign = await other.client('coordinator');
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...drafts);
    const [outcome] = await foreign.push({ verb: 'amend', kind: 'visit', id: ids.visit, set: { outcome: 'dry' } });
    expect(outcome).toMatchObject({ outcome: 'set_aside', code: 'parent_missing' });
    const [named] = await foreign.push({ kind: 'nest', id: v7(), set: { site: firm.ids.site, name: 'Nest 9' } });
    expect(named).toMatchObject({ outcome: 'set_aside', code: 'parent_missing' });
    const [same] = await foreign.push({ kind: 'crew', id: firm.ids.north, set: { name: 'Same id' } });
    expect(same).toMatchObject({ outcome: 'applied', rev: 1 });
    const { rows } = await db.bypass.query('select name from crew where firm = $1 and id = $2', [
      firm.id,
      firm.ids.north,
    ]);
    expect(rows).toEqual([{ name: 'North crew' }]);
  });
});
