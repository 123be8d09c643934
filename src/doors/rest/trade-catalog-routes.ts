import { createHash } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { CATALOG_SECTIONS } from '../../catalog/catalog-sections.ts';
import { Problem } from '../../protocol/problem.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import { type ShownSection, sectionSummary, shownSection } from '../catalog-view.ts';
import type { Api } from './api.ts';
import { isKnown } from './etag.ts';
import { count } from './list-shapes.ts';
import { answer, problems } from './problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['catalogue'];
const headers = z.looseObject({ 'if-none-match': z.string().max(1_000).optional() });
const AS_KNOWN = { description: 'As you know it', content: { 'application/json': { schema: z.undefined() } } };

const figureShape = z
  .strictObject({
    at: z.string().describe('JSON Pointer into the content of the item'),
    value: z.string(),
    source: z.string().nullable().describe('Its own, or that of what it stands in'),
    verified: z.boolean().nullable().describe('It was read in its document, or in the copy named'),
    status: z.string().nullable().describe('How it was come by: seen, or from memory with its confidence'),
  })
  .meta({ id: 'CatalogFigure' });

const itemShape = z
  .strictObject({
    id: z.string(),
    name: z.string(),
    source: z.string().nullable().describe('Null for a name of our own'),
    edition: z.string().nullable(),
    dated: z.string().nullable().describe('Date of the edition, as exactly as it is known'),
    verified: z.boolean().nullable().describe('Every figure of it was read in its document; null where it has none'),
    figures: z.array(figureShape).describe('Each figure with its source'),
    content: z.unknown().describe('The data in their own form, as phone and server count with them'),
  })
  .meta({ id: 'CatalogItem' });

const about = { name: z.string(), title: z.string(), description: z.string() };

const sectionShape = z.strictObject({ ...about, items: z.array(itemShape) }).meta({ id: 'CatalogSection' });

const catalogShape = z
  .strictObject({
    sections: z.array(
      z.strictObject({
        ...about,
        href: z.string().describe('Address of the section'),
        itemCount: count,
        figureCount: count,
        verifiedFigureCount: count,
      }),
    ),
  })
  .meta({ id: 'Catalog' });

/** A text that changes with a release only, and its entity tag. */
interface Fixed {
  readonly text: string;
  readonly etag: string;
}

function fixed(body: unknown): Fixed {
  const text = JSON.stringify(body);
  return { text, etag: `"${createHash('sha256').update(text).digest('hex').slice(0, 16)}"` };
}

function send(request: FastifyRequest, reply: FastifyReply, { text, etag }: Fixed): FastifyReply {
  reply.header('etag', etag).header('cache-control', 'private, no-cache');
  if (isKnown(request.headers['if-none-match'], etag)) return reply.code(304).send();
  return reply.type('application/json').send(text);
}

function summary(section: ShownSection) {
  const { name, title, description } = section;
  return { name, title, description, href: `/v1/catalog/${name}`, ...sectionSummary(section) };
}

/** GET /catalog and /catalog/SECTION: the same until the next release, so its ETag saves sending it again. */
export function tradeCatalogRoutes(api: Api): void {
  const sections = CATALOG_SECTIONS.map(shownSection);
  const whole = fixed({ sections: sections.map(summary) });
  const texts = new Map(sections.map((section) => [section.name, fixed(section)]));
  const all = {
    operationId: 'getCatalog',
    summary: 'What the trade has written down: the sections of the catalog',
    description: 'Criteria, limits, standards, pumps, materials and rules, each figure with its source.',
    tags,
    headers,
    response: { 200: answer('The sections', catalogShape), 304: AS_KNOWN, ...problems() },
  };
  api.get('/catalog', { schema: all, config }, (request, reply) => send(request, reply, whole) as never);
  const one = {
    operationId: 'getCatalogSection',
    summary: 'One section of the catalog, with every figure, its source, its edition and whether it was read there',
    tags,
    params: z.strictObject({ section: z.string().max(64) }),
    headers,
    response: { 200: answer('The section', sectionShape), 304: AS_KNOWN, ...problems('not_found') },
  };
  api.get('/catalog/:section', { schema: one, config }, (request, reply) => {
    const { section } = request.params;
    const found = texts.get(section);
    if (found) return send(request, reply, found) as never;
    throw new Problem('not_found', `${JSON.stringify(section)} is no section of the catalog; see /v1/catalog`);
  });
}
