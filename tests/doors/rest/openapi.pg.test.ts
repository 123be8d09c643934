import { Validator } from '@seriousme/openapi-schema-validator';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';

interface Operation {
  readonly operationId?: string;
  readonly summary?: string;
  readonly responses: Readonly<Record<string, { readonly content?: object }>>;
}

interface Document {
  readonly openapi: string;
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, unknown>> };
}

let t: TestApp;
let document: Document;

beforeAll(async () => {
  t = await testApp();
  document = (await t.app.inject({ url: '/v1/openapi.json' })).json();
});
afterAll(() => t.close());

function operations(): [string, Operation][] {
  return Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]): [string, Operation] => [`${method} ${path}`, operation]),
  );
}

/** Every route that is registered, as the router knows it. */
function routes(): string[] {
  const lines = t.app.printRoutes({ commonPrefix: false }).split('\n');
  const path: string[] = [];
  return lines.flatMap((line) => {
    const [, indent = '', name = ''] = /^([│ ]*(?:├── |└── )?)(.*)$/.exec(line) ?? [];
    const depth = indent.length / 4 - 1;
    if (depth < 0) return [];
    const [, part = '', methods] = /^(.*?)(?: \(([A-Z, ]+)\))?$/.exec(name) ?? [];
    path.length = depth;
    path[depth] = part;
    const url = path.join('');
    return (methods ?? '')
      .split(', ')
      .filter((method) => method !== '' && method !== 'HEAD')
      .map((method) => `${method.toLowerCase()} ${url.replace(/:(\w+)/g, '{$1}')}`);
  });
}

describe('the OpenAPI document', () => {
  it('is valid OpenAPI 3.1', async () => {
    expect(document.openapi).toMatch(/^3\.1/);
    const validator = new Validator();
    const { valid, errors } = await validator.validate(JSON.parse(JSON.stringify(document)));
    expect(errors).toBeUndefined();
    expect(valid).toBe(true);
  });

  it('refers only to schemas that it holds, and holds none that nothing refers to', () => {
    const refs = new Set([...JSON.stringify(document).matchAll(/"#\/components\/schemas\/([^"]+)"/g)].map((m) => m[1]));
    expect([...refs].sort()).toEqual(Object.keys(document.components.schemas).sort());
  });

  it('describes every route but the pages themselves', () => {
    const described = new Set(operations().map(([name]) => name));
    const pages = /^get \/v1\/(openapi\.json|reference)|\/graphql|^options /;
    const silent = routes().filter((route) => !pages.test(route) && !described.has(route));
    expect(routes().length).toBeGreaterThan(150);
    expect(silent).toEqual([]);
  });

  it('names each operation once, with a summary and the answers to a refusal', () => {
    const all = operations().map(([, operation]) => operation);
    const ids = all.map((operation) => operation.operationId);
    expect(new Set(ids).size).toBe(ids.length);
    expect(all.filter((operation) => !operation.operationId || !operation.summary)).toEqual([]);
    const bare = operations().filter(([name, { responses }]) => {
      if (/livez|readyz/.test(name)) return false;
      return !('500' in responses && '503' in responses && '400' in responses);
    });
    expect(bare.map(([name]) => name)).toEqual([]);
  });

  it('holds the fields of every kind, and the push and pull of phones', () => {
    for (const kind of KINDS) expect(Object.keys(document.paths)).toContain(`/v1/${kind.plural}/{id}`);
    const text = JSON.stringify(document.components.schemas.NewReading);
    expect(text).toContain('dissolvedOxygenMgPerL');
    expect(text).toContain('At 25 °C, in µS/cm');
    expect(document.paths['/v1/sync/push']?.post?.operationId).toBe('push');
    expect(document.paths['/v1/sync/feeds/{feed}/rows']?.get?.operationId).toBe('pull');
    expect(document.paths['/v1/sync/feeds/{feed}/verify']?.get?.operationId).toBe('verifyFeed');
  });
});

describe('the reference page', () => {
  it('loads with everything that it needs from this server', async () => {
    for (const url of ['/v1/reference/', '/v1/reference']) {
      const page = await t.app.inject({ url });
      expect(page.statusCode).toBe(200);
      expect(page.headers['content-type']).toContain('text/html');
      expect(page.headers['content-security-policy']).toContain("script-src 'self'");
      const links = [...page.body.matchAll(/(?:src|href)="([^"]+)"/g)].map((match) => match[1] ?? '');
      expect(links.length).toBeGreaterThan(4);
      for (const link of links) {
        const address = new URL(link, `http://server${url}`);
        expect(address.host).toBe('server');
        const asset = await t.app.inject({ url: address.pathname });
        expect([address.pathname, asset.statusCode]).toEqual([address.pathname, 200]);
      }
    }
    const described = await t.app.inject({ url: '/v1/reference/json' });
    expect(described.json().openapi).toBe(document.openapi);
  });

  it('alone may run scripts', async () => {
    const { headers } = await t.app.inject({ url: '/v1/limits' });
    expect(headers['content-security-policy']).toBe("default-src 'none';frame-ancestors 'none'");
    expect(headers['x-content-type-options']).toBe('nosniff');
  });
});
