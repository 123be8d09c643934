import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { EVERY_ROLE } from '../../src/doors/authenticate.ts';
import type { Aim } from './attacks.ts';
import { asked, graphAttacks, plainQuestions } from './graph-attacks.ts';
import { queryFields } from './graph-fields.ts';
import { LeakDetector } from './leaks.ts';
import { digestOf, inParallel, type Speakers, tryAll } from './matrix.ts';
import { mustDo } from './speaker.ts';
import { type OpenServer, openServer, speakersOf, type TwoFirms, twoFirms } from './two-firms.ts';

let t: TwoFirms;
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
  attackers = speakersOf(server.app, t.attacker.secrets);
  victims = speakersOf(others.app, t.victim.secrets);
  aim = { document: t.document, ours: t.attacker.ids, theirs: t.victim.ids };
  leaks = new LeakDetector(t.canary, t.victim.ids);
}, 120_000);
afterAll(async () => {
  await server.close();
  await others.close();
  await t.close();
});

describe('a stranger through GraphQL', () => {
  it('reads nothing of the other firm in any list, nor by any way from its own records', async () => {
    const faults: string[] = [];
    const questions = plainQuestions(aim);
    await inParallel(questions, 6, async (one) => {
      for (const role of EVERY_ROLE) {
        const { status, text } = await attackers[role].ask(one);
        const found = leaks.in(text);
        if (status !== 200 || found.length > 0)
          faults.push(`${role}: ${JSON.stringify(one.payload)}: ${status} ${text}`);
      }
    });
    expect(faults).toEqual([]);
    expect(questions.length).toBeGreaterThan(300);
  }, 120_000);

  it('would have been told by the same questions, had they been of the other firm', async () => {
    const theirs = plainQuestions({ ...aim, ours: aim.theirs });
    const telling = { all: 0 };
    await inParallel(theirs, 6, async (one) => {
      if (leaks.in((await victims.admin.ask(one)).text).length > 0) telling.all += 1;
    });
    expect(telling.all).toBeGreaterThan(200);
  }, 120_000);

  it('is told of every id of the other firm, in every place, what is told of one that nobody has', async () => {
    const before = await digestOf(t.db.bypass, t.victim.firm.id);
    const attacks = graphAttacks(aim);
    const { faults, requests } = await tryAll(attacks, attackers, leaks);
    console.info(`${attacks.length} places, ${requests} requests`);
    expect(faults).toEqual([]);
    expect(attacks.length).toBeGreaterThan(600);
    expect(await digestOf(t.db.bypass, t.victim.firm.id)).toEqual(before);
  }, 300_000);

  it('goes on from no cursor of the other firm', async () => {
    const lists = queryFields().filter(({ args }) => args.some(({ name }) => name === 'after'));
    expect(lists.length).toBeGreaterThan(25);
    for (const { name } of lists) {
      const page = (after: string | null) =>
        asked(`query ($after: String) { ${name}(first: 1, after: $after) { pageInfo { endCursor } nodes { id } } }`, {
          after,
        });
      const { data } = (await mustDo(victims.admin, page(null))) as {
        data: Record<string, { pageInfo: { endCursor: string } }>;
      };
      const { status, text } = await attackers.admin.ask(page(data[name]?.pageInfo.endCursor ?? null));
      expect([name, status, leaks.in(text)]).toEqual([name, 200, []]);
    }
  });

  it('has keys of its own', async () => {
    const text =
      'mutation ($name: String!) { recordCrew(input: { name: $name }, idempotencyKey: "monday-1") { id outcome repeated } }';
    const theirs = await mustDo(victims.admin, asked(text, { name: t.canary }));
    const ours = await mustDo(attackers.admin, asked(text, { name: t.canary }));
    expect(ours).toMatchObject({ data: { recordCrew: { outcome: 'APPLIED', repeated: false } } });
    expect(ours).not.toEqual(theirs);
  });

  it('leaves nothing of the other firm in the log of the server', () => {
    expect(leaks.in(server.logged())).toEqual([]);
  });
});
