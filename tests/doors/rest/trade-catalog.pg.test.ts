import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { figuresOfItem, isItemVerified, plainContent } from '../../../src/catalog/catalog-figures.ts';
import { CATALOG_SECTIONS } from '../../../src/catalog/catalog-sections.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { ask } from '../graphql/ask.ts';
import { RestClient } from './rest-client.ts';

let t: TestApp;
let token: string;
let reader: RestClient;

beforeAll(async () => {
  t = await testApp();
  token = await t.token('crew', t.firm.ids.phone);
  reader = new RestClient(t, token);
});
afterAll(() => t.close());

const ITEMS = 'id name source edition dated verified content figures { at value source verified status }';
const SECTION = `name title description itemCount figureCount verifiedFigureCount`;

describe('the catalog', () => {
  it('lists its sections, with addresses that lead to them and how much of each was read', async () => {
    const { status, body } = await reader.get('/catalog');
    expect(status).toBe(200);
    expect(body.sections.map((section: { name: string }) => section.name)).toEqual(
      CATALOG_SECTIONS.map((section) => section.name),
    );
    for (const { href, name, itemCount, figureCount, verifiedFigureCount } of body.sections) {
      const section = (await reader.get(href.slice('/v1'.length))).body;
      const figures = section.items.flatMap((item: { figures: { verified: boolean }[] }) => item.figures);
      expect([section.name, section.items.length, figures.length]).toEqual([name, itemCount, figureCount]);
      expect(figures.filter((figure: { verified: boolean }) => figure.verified).length).toBe(verifiedFigureCount);
    }
  });

  it.each(CATALOG_SECTIONS.map((section) => [section.name, section] as const))(
    'gives %s as phones have it, through REST and GraphQL',
    async (name, { title, description, items }) => {
      const { body } = await reader.get(`/catalog/${name}`);
      const shown = items.map((item) => ({
        ...item,
        verified: isItemVerified(item),
        figures: figuresOfItem(item),
        content: plainContent(item.content),
      }));
      expect(body).toEqual(JSON.parse(JSON.stringify({ name, title, description, items: shown })));
      const query = `query ($name: String!) { catalogSection(name: $name) { name title description items { ${ITEMS} } } }`;
      const { data, errors } = await ask<{ catalogSection: unknown }>(t, token, query, { name });
      expect(errors).toEqual([]);
      expect(data.catalogSection).toEqual(body);
    },
  );

  it('is listed through GraphQL as through REST, and whole in one query', async () => {
    const { body } = await reader.get('/catalog');
    const listed = body.sections.map(({ href, ...section }: { href: string }) => section);
    expect((await ask(t, token, `{ catalog { ${SECTION} } }`)).data).toEqual({ catalog: listed });
    const whole = await ask<{ catalog: { items: object[] }[] }>(t, token, `{ catalog { items { ${ITEMS} } } }`);
    expect(whole.errors).toEqual([]);
    expect(whole.data.catalog.map(({ items }) => items.length)).toEqual(
      CATALOG_SECTIONS.map(({ items }) => items.length),
    );
  });

  it('does not know a section that there is not', async () => {
    for (const name of ['none', 'constructor', '__proto__']) {
      const { status, body } = await reader.get(`/catalog/${name}`);
      expect([status, body.code]).toEqual([404, 'not_found']);
      const query = `{ catalogSection(name: "${name}") { name } }`;
      expect((await ask(t, token, query)).data).toEqual({ catalogSection: null });
    }
  });

  it('is for those who have a token', async () => {
    const nobody = new RestClient(t, null);
    for (const url of ['/catalog', '/catalog/ph-buffers']) expect((await nobody.get(url)).status).toBe(401);
  });
});

describe('what does not change before the next release', () => {
  it.each(['/catalog', '/catalog/ph-buffers'])('%s is sent once: 304 for whoever knows it', async (url) => {
    const { headers } = await reader.get(url);
    const etag = String(headers.etag);
    expect(etag).toMatch(/^"[0-9a-f]{16}"$/);
    for (const known of [etag, `W/${etag}`, `"other", ${etag}`, '*']) {
      const again = await reader.get(url, { 'if-none-match': known });
      expect([again.status, again.text, again.headers.etag]).toEqual([304, '', etag]);
    }
    const other = await reader.get(url, { 'if-none-match': '"0123456789abcdef"' });
    expect([other.status, other.headers.etag]).toEqual([200, etag]);
  });

  it('has a tag of its own for each section', async () => {
    const tags = await Promise.all(
      CATALOG_SECTIONS.map(async ({ name }) => (await reader.get(`/catalog/${name}`)).headers.etag),
    );
    expect(new Set(tags).size).toBe(CATALOG_SECTIONS.length);
  });
});

describe('the document of the API', () => {
  it('describes the catalog, with what it answers', async () => {
    const { body } = await reader.get('/openapi.json');
    for (const [path, schema] of [
      ['/v1/catalog', 'Catalog'],
      ['/v1/catalog/{section}', 'CatalogSection'],
    ] as const) {
      const { responses } = body.paths[path].get;
      expect(Object.keys(responses)).toEqual(expect.arrayContaining(['200', '304', '401']));
      expect(responses[200].content['application/json'].schema.$ref).toBe(`#/components/schemas/${schema}`);
    }
    const { required } = body.components.schemas.CatalogFigure;
    expect(required).toEqual(['at', 'value', 'source', 'verified', 'status']);
  });
});
