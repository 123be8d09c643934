import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { feedsInSight } from '../../src/reads/feeds-in-sight.ts';
import { followedFeeds } from '../../src/reads/followed-feeds.ts';
import { lookFor } from '../../src/reads/live/look.ts';
import { visibleFeeds } from '../../src/reads/visible-feeds.ts';
import { inRead } from '../../src/store/read/transaction.ts';
import { openRecords } from '../../src/store/records.ts';
import type { Speaker } from './speaker.ts';
import { type OpenServer, openServer, speakersOf, type TwoFirms, twoFirms } from './two-firms.ts';

let t: TwoFirms;
let server: OpenServer;
let laboratory: Speaker;

beforeAll(async () => {
  t = await twoFirms();
  server = await openServer(t.db.pool);
  laboratory = speakersOf(server.app, t.victim.secrets).laboratory;
}, 120_000);
afterAll(async () => {
  await server.close();
  await t.close();
});

/** What a laboratory may use, and whoever has no token at all. */
const ITS_OWN = /^\/v1\/(laboratory\/|me$)/;
const OPEN = [
  /^\/(livez|readyz)$/,
  /^\/v1\/(enrol|limits|openapi\.json|problems|problems\/:code)$/,
  /^\/v1\/reference(\/|$)/,
];

interface Route {
  readonly method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  readonly url: string;
}

/** Every route of the server, whoever registered it: from the tree that the router prints, a line a part of an address. */
function routesOf(printed: string): Route[] {
  const parts: string[] = [];
  return printed.split('\n').flatMap((line): Route[] => {
    const [, indent = '', part = '', methods] = /^([│├└─\s]*)(\S.*?)(?: \(([A-Z, ]+)\))?$/.exec(line) ?? [];
    if (part === '') return [];
    const depth = Math.floor(indent.length / 4);
    parts.length = depth;
    parts[depth] = part;
    if (methods === undefined) return [];
    const url = parts.slice(1).join('');
    return methods
      .split(', ')
      .flatMap((method) => (['HEAD', 'OPTIONS'].includes(method) ? [] : [{ method, url } as Route]));
  });
}

describe('the role of a laboratory', () => {
  it('is refused by every route of the server but its own', async () => {
    const routes = routesOf(server.app.printRoutes({ commonPrefix: false }));
    expect(routes.length).toBeGreaterThan(250);
    expect(routes.some(({ url }) => url === '/graphql')).toBe(true);
    expect(routes.some(({ url }) => url === '/v1/sync/push')).toBe(true);
    const guarded = routes.filter(({ url }) => !ITS_OWN.test(url) && !OPEN.some((open) => open.test(url)));
    expect(guarded.length).toBeGreaterThan(240);
    const event = t.victim.ids.of('event');
    for (const { method, url } of guarded) {
      const address = url.replace(':feed', encodeURIComponent(`event:${event}`)).replace(/:\w+/g, event);
      const body = method === 'GET' ? {} : { payload: {} };
      const { status, text } = await laboratory.ask({ method, url: address, ...body });
      expect([method, url, status, text.includes(t.canary)]).toEqual([method, url, 403, false]);
    }
  }, 120_000);

  it('is told who it is, and what it may use, at the address where everybody asks that', async () => {
    const { status, text } = await laboratory.ask({ method: 'GET', url: '/v1/me' });
    const body = JSON.parse(text);
    expect([status, body.role, body.device, body.person]).toEqual([200, 'laboratory', null, null]);
    expect(body.laboratory.id).toBe(t.victim.ids.of('laboratory'));
    const routes = server.app.printRoutes({ commonPrefix: false });
    const own = routesOf(routes).map(({ url }) => url.replace(/:(\w+)/g, '{$1}'));
    const its = new Set(own.filter((one) => one.startsWith('/v1/laboratory/')));
    expect(body.laboratory.mayUse.toSorted()).toEqual([...its].toSorted());
    const taken = await laboratory.ask({
      method: 'PUT',
      url: '/v1/me/person',
      payload: { person: t.victim.ids.of('member') },
    });
    expect(taken.status).toBe(403);
  });

  it('follows no feed, wherever one asks which', async () => {
    const { id } = t.victim.firm;
    const reader = {
      firm: id,
      token: id,
      role: 'laboratory',
      device: null,
      laboratory: t.victim.ids.of('laboratory'),
    } as const;
    const records = openRecords(t.db.pool);
    expect(await visibleFeeds({ pool: t.db.pool, records }, reader)).toEqual([]);
    await inRead(t.db.pool, id, async (tx) => {
      expect(await feedsInSight(tx, reader)).toEqual([]);
      expect(await followedFeeds(tx, reader)).toEqual([]);
      const token = t.victim.ids.of('token');
      const readers = [
        { ...reader, token },
        { ...reader, token, role: 'admin' as const },
      ];
      const look = await lookFor(tx, readers, '2026-05-04T12:00:00Z');
      expect(look.of({ ...reader, token })?.size).toBe(0);
      expect(look.of({ ...reader, token, role: 'admin' })?.size).toBeGreaterThan(2);
    });
    await records.close();
  });

  it('reads of its own routes nothing of what the firm wrote beside it', async () => {
    const event = t.victim.ids.of('event');
    const { status, text } = await laboratory.ask({ method: 'GET', url: `/v1/laboratory/events/${event}/list.json` });
    expect(status).toBe(200);
    for (const one of t.victim.ids.all().filter((known) => known !== event)) expect(text).not.toContain(one);
  });
});
