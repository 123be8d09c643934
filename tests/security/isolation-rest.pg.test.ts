import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { operationsOf } from './api-document.ts';
import { type Aim, attacksOn, plainRead } from './attacks.ts';
import { borrowCursors } from './borrowed.ts';
import { LeakDetector } from './leaks.ts';
import { digestOf, inParallel, type Speakers, tryAll } from './matrix.ts';
import { type Asked, mustDo } from './speaker.ts';
import { ALL_ROLES, type OpenServer, openServer, speakersOf, type TwoFirms, twoFirms } from './two-firms.ts';

let t: TwoFirms;
/** The server as it is attacked, and another on the same database, where the victim works. */
let server: OpenServer;
let others: OpenServer;
let attackers: Speakers;
let victims: Speakers;
let aim: Aim;
let leaks: LeakDetector;

beforeAll(async () => {
  t = await twoFirms();
  server = await openServer(t.db.pool);
  others = await openServer(t.db.pool);
  victims = speakersOf(others.app, t.victim.secrets);
  attackers = speakersOf(server.app, t.attacker.secrets);
  aim = { document: t.document, ours: t.attacker.ids, theirs: t.victim.ids };
  leaks = new LeakDetector(t.canary, t.victim.ids);
}, 120_000);
afterAll(async () => {
  await server.close();
  await others.close();
  await t.close();
});

describe('the firm that is attacked', () => {
  it('has a canary in a record of every kind that people write', async () => {
    const { rows } = await t.db.bypass.query<{ kind: string }>(
      `select distinct kind from ledger where firm = $1 and state::text like '%' || $2 || '%'`,
      [t.victim.firm.id, t.canary],
    );
    const written = operationsOf(t.document).filter(
      ({ path, method }) => method === 'POST' && path.split('/').length === 3,
    );
    const ofNoKind = ['/v1/tokens', '/v1/enrolment-codes', '/v1/enrol'];
    expect(rows.length).toBeGreaterThanOrEqual(written.filter(({ path }) => !ofNoKind.includes(path)).length);
  });

  it('finds its canary itself, so that the search for it means something', async () => {
    const reads = operationsOf(t.document).filter(
      ({ method, path }) => method === 'GET' && /^\/v1\/[a-z-]+$/.test(path),
    );
    let telling = 0;
    for (const operation of reads) {
      const { text } = await victims.admin.ask(plainRead(operation, aim));
      if (leaks.in(text).length > 0) telling++;
    }
    expect(telling).toBeGreaterThan(25);
  });
});

describe('a stranger through REST', () => {
  it('reads nothing of the other firm under any address', async () => {
    const faults: string[] = [];
    await inParallel(
      operationsOf(t.document).filter(({ method }) => method === 'GET'),
      6,
      async (operation) => {
        for (const role of ALL_ROLES) {
          const { status, text } = await attackers[role].ask(plainRead(operation, aim));
          const found = leaks.in(text);
          if (status >= 500 || found.length > 0)
            faults.push(`${role}: GET ${operation.path}: ${status} ${found.join(' ')}`);
        }
      },
    );
    expect(faults).toEqual([]);
  }, 120_000);

  it('is told of every id of the other firm, in every place, what is told of one that nobody has', async () => {
    const before = await digestOf(t.db.bypass, t.victim.firm.id);
    const attacks = operationsOf(t.document).flatMap((operation) => attacksOn(operation, aim));
    const { faults, requests, statuses } = await tryAll(attacks, attackers, leaks);
    console.info(
      `${attacks.length} places, ${requests} requests, by status: ${JSON.stringify(Object.fromEntries(statuses))}`,
    );
    expect(faults).toEqual([]);
    expect(attacks.length).toBeGreaterThan(600);
    // seen in lists as none, missing under addresses, waited for in bodies, and one's own where an id is taken
    for (const status of [200, 201, 202, 404]) expect(statuses.get(status)).toBeGreaterThan(15);
    expect(await digestOf(t.db.bypass, t.victim.firm.id)).toEqual(before);
  }, 300_000);

  it('goes on from no cursor of the other firm', async () => {
    const operations = operationsOf(t.document);
    const { faults, tried } = await borrowCursors(operations, { aim, attackers, leaks, victims });
    expect(faults).toEqual([]);
    expect(tried).toBeGreaterThan(30);
  });

  it('has keys of its own: one that the other firm used is new, with the same content and with another', async () => {
    const headers = { 'idempotency-key': 'monday-1' };
    const asked = { method: 'POST', url: '/v1/crews', headers } as const;
    const theirs = await mustDo(victims.admin, { ...asked, payload: { name: t.canary } });
    for (const name of [t.canary, 'Another']) {
      const payload = { name };
      const { status, text, headers: got } = await attackers.admin.ask({ ...asked, payload });
      const repeated = name === 'Another' ? [422, 'key_reused'] : [201, undefined];
      expect([status, JSON.parse(text).code, got['idempotent-replay']]).toEqual([...repeated, undefined]);
      expect(text).not.toContain(theirs.id);
    }
    // the second was refused for the first of our own, not for theirs
    const fresh = { ...asked, headers: { 'idempotency-key': 'monday-2' } };
    await mustDo(victims.admin, { ...fresh, payload: { name: t.canary } });
    expect((await attackers.admin.ask({ ...fresh, payload: { name: 'Another' } })).status).toBe(201);
  });

  it.each(['', '?carried=true'])(
    'pushes under the client of the other firm as under one that is new%s',
    async (carried) => {
      const client = v7();
      const line = (name: string) =>
        JSON.stringify({ mutationId: 1, verb: 'record', kind: 'crew', id: v7(), set: { name } });
      const push = (first: number, text: string): Asked => ({
        method: 'POST',
        url: `/v1/sync/push${carried}`,
        headers: { 'content-type': 'application/x-ndjson' },
        payload: `${JSON.stringify({ client, schemaVersion: 1, first, count: 1 })}\n${text}\n`,
      });
      const theirs = line(t.canary);
      await mustDo(victims.admin, push(1, theirs));
      expect(JSON.parse((await attackers.admin.ask(push(2, theirs))).text)).toMatchObject({
        code: 'mutation_gap',
        expected: 1,
      });
      const { outcomes } = await mustDo(attackers.admin, push(1, line('Ours')));
      expect(outcomes).toMatchObject([{ outcome: 'applied', rev: 1 }]);
      const { lastMutation } = await mustDo(victims.admin, { method: 'GET', url: `/v1/sync/feeds?client=${client}` });
      expect(lastMutation).toBe(1);
    },
  );

  it('waits in vain for a record that only the other firm gets', async () => {
    const id = v7();
    const payload = { name: 'Waits', requires: [id] };
    const { setAside } = await mustDo(attackers.admin, { method: 'POST', url: '/v1/crews', payload });
    await mustDo(victims.admin, { method: 'POST', url: '/v1/crews', payload: { id, name: t.canary } });
    const kept = { method: 'GET', url: `/v1/set-asides/${setAside}` } as const;
    expect((await mustDo(attackers.admin, kept)).standing).toBe('waiting');
    await mustDo(attackers.admin, {
      method: 'POST',
      url: '/v1/crews',
      payload: { id, name: 'Ours under the same id' },
    });
    expect((await mustDo(attackers.admin, kept)).standing).toBe('released');
    const { fields } = await mustDo(victims.admin, { method: 'GET', url: `/v1/crews/${id}` });
    expect(fields).toEqual({ name: t.canary });
  });

  it('leaves nothing of the other firm in the log of the server', () => {
    const log = server.logged();
    expect(log.length).toBeGreaterThan(100_000);
    expect(leaks.in(log)).toEqual([]);
  });
});
