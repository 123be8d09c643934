import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import { storedPlanInput } from '../../../src/rules/pump-set-up/stored-plan-input.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { TestFirm } from '../../support/test-firm.ts';
import { RestClient } from './rest-client.ts';

interface Operation {
  readonly tags?: readonly string[];
  readonly path: string;
  readonly method: 'GET' | 'POST' | 'PATCH' | 'PUT';
  readonly security?: readonly unknown[];
}

let t: TestApp;
let strangers: TestFirm;
let stranger: RestClient;
let nobody: RestClient;
let dashboard: RestClient;
let operations: readonly Operation[];

beforeAll(async () => {
  t = await testApp();
  strangers = new TestFirm(t.db.pool);
  await strangers.setUp();
  stranger = new RestClient(t, await t.token('admin', null, strangers));
  nobody = new RestClient(t, null);
  dashboard = new RestClient(t, await t.token('dashboard'));
  const { body } = await nobody.get('/openapi.json');
  operations = Object.entries(body.paths as Record<string, Record<string, object>>).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => {
      return { path, method: method.toUpperCase() as Operation['method'], ...operation };
    }),
  );
});
afterAll(() => t.close());

/** What the one question asks that names a record in its address and takes a body. */
const PLAN = (storedPlanInput.meta()?.examples as object[] | undefined)?.[0] ?? {};

/** An address of the door, with this id wherever one stands. */
function url({ path }: Operation, id: string): string {
  return path.replace('/v1', '').replace(/\{(?:id|code|feed|discrepancy)\}/g, id);
}

/** A body that can be read, of an address that takes another than a change; and its type, where that is none of JSON. */
const BODIES: readonly { readonly ends: string; readonly body: object | string; readonly type?: string }[] = [
  { ends: '/receipts', body: { received: '2026-05-04T10:00:00Z' } },
  { ends: '/sampling-plan', body: {} },
  { ends: '/decision', body: { decision: 'none', decidedBy: 'a stranger' } },
  { ends: '/results.csv', body: 'sampleNumber,analyte,value,unit\n', type: 'text/csv' },
];

function ask(client: RestClient, operation: Operation, id: string, body: object | string = {}, type?: string) {
  const headers: Record<string, string> = type === undefined ? {} : { 'content-type': type };
  return client.send(operation.method, url(operation, id), operation.method === 'GET' ? undefined : body, headers);
}

async function standing(firm: string): Promise<number> {
  const { rows } = await t.db.bypass.query('select count(*)::int as n from ledger where firm = $1', [firm]);
  return rows[0].n;
}

describe('every route', () => {
  it('asks who speaks, unless its description says that it is open', async () => {
    const guarded = operations.filter(({ path, security }) => security === undefined && path.startsWith('/v1/'));
    expect(guarded.length).toBeGreaterThan(140);
    for (const operation of guarded) {
      const { status, body, headers } = await ask(nobody, operation, t.firm.ids.lone);
      expect([operation.method, operation.path, status, body.code]).toEqual([
        operation.method,
        operation.path,
        401,
        'unauthenticated',
      ]);
      expect(headers['www-authenticate']).toBe('Bearer');
    }
  });

  it('that is open tells nothing of any firm', async () => {
    const open = operations.filter(({ security }) => security?.length === 0).map(({ path }) => path);
    // enrol tells whoever has a code what token it became, and nobody else anything
    expect(open.sort()).toEqual([
      '/livez',
      '/readyz',
      '/v1/enrol',
      '/v1/limits',
      '/v1/problems',
      '/v1/problems/{code}',
    ]);
  });
});

describe('a stranger', () => {
  it('meets 404 under every address that names a record of another firm, and changes nothing', async () => {
    const before = await standing(t.firm.id);
    const idOf: Record<string, string> = {
      firms: t.firm.id,
      members: t.firm.ids.ann,
      crews: t.firm.ids.north,
      devices: t.firm.ids.phone,
      sites: t.firm.ids.site,
      nests: t.firm.ids.nest,
      units: t.firm.ids.pump,
      events: t.firm.ids.event,
    };
    const named = operations.filter(({ path }) => KINDS.some((kind) => path.startsWith(`/v1/${kind.plural}/{id}`)));
    expect(named.length).toBeGreaterThan(100);
    for (const operation of named) {
      const id = idOf[operation.path.split('/')[2] ?? ''] ?? t.firm.ids.lone;
      const change = { reason: 'a stranger', base: { rev: 1 } };
      const other = BODIES.find(({ ends }) => operation.path.endsWith(ends) && operation.method === 'POST');
      const given = other?.body ?? (operation.tags?.includes('question') ? PLAN : change);
      const { status, body, text } = await ask(stranger, operation, id, given, other?.type);
      expect([operation.path, status, body.code]).toEqual([operation.path, 404, 'record_missing']);
      expect(text).not.toContain('Testwater');
    }
    expect(await standing(t.firm.id)).toBe(before);
  });

  it('finds nothing of another firm in any list, not even by its ids', async () => {
    const ours = new Set(Object.values(t.firm.ids));
    for (const kind of KINDS) {
      const { body } = await stranger.get(`/${kind.plural}`);
      expect(body.items.filter((item: { id: string }) => ours.has(item.id))).toEqual([]);
    }
    const { lone, site, event } = t.firm.ids;
    for (const list of [
      `wells?site=${site}`,
      `visits?well=${lone}`,
      `readings?event=${event}`,
      `wells?feed=site:${site}`,
    ]) {
      expect((await stranger.get(`/${list}`)).body.items).toEqual([]);
    }
  });

  it('meets 404 under the tokens and set-asides of another firm', async () => {
    const admin = new RestClient(t, await t.token('admin'));
    const token = (await admin.get('/me')).body.token;
    const waiting = await admin.post('/nests', { site: t.firm.ids.lone, name: 'Under a well' });
    expect(waiting.body.code).toBe('reference_of_other_kind');
    const kept = waiting.body.setAside;
    const answers = [
      await stranger.get(`/tokens/${token}`),
      await stranger.post(`/tokens/${token}/revoke`),
      await stranger.get(`/set-asides/${kept}`),
      await stranger.post(`/set-asides/${kept}/release`),
    ];
    expect(answers.map((answer) => answer.status)).toEqual([404, 404, 404, 404]);
    expect((await admin.get('/me')).status).toBe(200);
    expect((await admin.get(`/set-asides/${kept}`)).body.standing).toBe('kept');
  });

  it('who names a record of another firm gets the answer of one that is not there', async () => {
    const foreign = await stranger.post('/nests', { site: t.firm.ids.site, name: 'N' });
    const absent = await stranger.post('/nests', { site: '01890000-0000-7000-8000-000000000000', name: 'N' });
    expect([foreign.status, foreign.body.code]).toEqual([absent.status, absent.body.code]);
    const well = { well: t.firm.ids.lone, depthToBottomFt: '40' };
    expect((await stranger.post('/questions/which-well', well)).status).toBe(404);
  });
});

describe('a dashboard', () => {
  it('reads and changes nothing', async () => {
    const closed = operations.filter(({ security }) => security?.length !== 0);
    const changing = closed.filter(({ method, tags }) => method !== 'GET' && !tags?.includes('question'));
    expect(changing.length).toBeGreaterThan(70);
    for (const operation of changing) {
      const { status, body } = await ask(dashboard, operation, t.firm.ids.lone);
      expect([operation.path, status, body.code]).toEqual([operation.path, 403, 'forbidden']);
    }
    expect((await dashboard.get('/wells')).body.items).toHaveLength(3);
    expect((await dashboard.get('/set-asides')).body.detail).toContain('coordinator and admin');
  });
});
