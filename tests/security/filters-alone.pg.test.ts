import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { EVERY_ROLE } from '../../src/doors/authenticate.ts';
import { operationsOf } from './api-document.ts';
import { type Aim, attacksOn, plainRead } from './attacks.ts';
import { borrowCursors } from './borrowed.ts';
import { graphAttacks, plainQuestions } from './graph-attacks.ts';
import { LeakDetector } from './leaks.ts';
import { digestOf, inParallel, type Speakers, tryAll } from './matrix.ts';
import type { Asked } from './speaker.ts';
import { type OpenServer, openServer, speakersOf, type TwoFirms, twoFirms } from './two-firms.ts';

let t: TwoFirms;
/** As it runs, and over an account to which the database shows the rows of every firm. */
let walled: OpenServer;
let open: OpenServer;
let attackers: Speakers;
let aim: Aim;
let leaks: LeakDetector;

beforeAll(async () => {
  t = await twoFirms();
  walled = await openServer(t.db.pool);
  open = await openServer(t.db.bypass);
  attackers = speakersOf(open.app, t.attacker.secrets);
  aim = { document: t.document, ours: t.attacker.ids, theirs: t.victim.ids };
  leaks = new LeakDetector(t.canary, t.victim.ids);
}, 120_000);
afterAll(async () => {
  await walled.close();
  await open.close();
  await t.close();
});

/** The bypassing pool of a test has four connections. */
const LINES = 3;
const TIMES = /"serverTime":"[^"]*"/;

/** REST with every role; of the many fields of GraphQL a crew's, whose feeds are filtered, and one other in turn. */
function rolesFor({ url }: Asked, index: number): readonly (typeof EVERY_ROLE)[number][] {
  if (!url.startsWith('/graphql')) return EVERY_ROLE;
  const other = EVERY_ROLE[index % EVERY_ROLE.length] ?? 'admin';
  return [...new Set(['crew' as const, other])];
}

describe('without row-level security, the filters of the application alone', () => {
  it('are without it here: the account sees both firms', async () => {
    const { rows } = await t.db.bypass.query('select count(distinct firm) as firms from head');
    expect(rows).toEqual([{ firms: 2 }]);
    await expect(t.db.pool.query('select count(distinct firm) as firms from head')).resolves.toMatchObject({
      rows: [{ firms: 0 }],
    });
  });

  it('answer every question of every role as with it, byte for byte', async () => {
    const inside = speakersOf(walled.app, t.attacker.secrets);
    const reads = operationsOf(t.document)
      .filter(({ method }) => method === 'GET')
      .map((operation) => plainRead(operation, aim));
    const all: Asked[] = [...reads, ...plainQuestions(aim)];
    const faults: string[] = [];
    await inParallel(all, LINES, async (asked) => {
      for (const role of rolesFor(asked, all.indexOf(asked))) {
        const [with_, without] = [await inside[role].ask(asked), await attackers[role].ask(asked)];
        const same = ({ status, text }: typeof without) =>
          `${status} ${text.replace(TIMES, '')}`.replace(/"requestId":"[^"]*"/g, '');
        const found = leaks.in(without.text);
        if (same(with_) !== same(without))
          faults.push(`${role}: ${asked.url} ${JSON.stringify(asked.payload ?? '')} differs`);
        if (found.length > 0) faults.push(`${role}: ${asked.url} tells ${found.join(' ')}`);
      }
    });
    expect(faults).toEqual([]);
    expect(all.length).toBeGreaterThan(400);
  }, 200_000);

  it('know nothing of an id of the other firm in any place, and change nothing there', async () => {
    const before = await digestOf(t.db.bypass, t.victim.firm.id);
    const rest = operationsOf(t.document).flatMap((operation) => attacksOn(operation, aim));
    const graph = graphAttacks(aim);
    const [even, odd] = [0, 1].map((rest) => graph.filter((_, index) => index % 2 === rest));
    for (const [attacks, roles] of [
      [rest, ['crew', 'admin']],
      [even ?? [], ['crew']],
      [odd ?? [], ['admin']],
    ] as const) {
      const { faults, requests } = await tryAll(attacks, attackers, leaks, roles, LINES);
      console.info(`${attacks.length} places, ${requests} requests`);
      expect(faults).toEqual([]);
    }
    const victims = speakersOf(walled.app, t.victim.secrets);
    expect((await borrowCursors(operationsOf(t.document), { aim, attackers, leaks, victims })).faults).toEqual([]);
    expect(await digestOf(t.db.bypass, t.victim.firm.id)).toEqual(before);
    expect(leaks.in(open.logged())).toEqual([]);
  }, 300_000);
});
