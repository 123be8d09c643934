import { z } from 'zod';
import type { Context } from '../../context.ts';
import { id, instant } from '../../protocol/primitives.ts';
import { oneSetAside, setAsidePage } from '../../reads/set-aside-page.ts';
import { type SetAsideInfo, STANDINGS } from '../../store/read/set-aside-list.ts';
import type { OneShot } from '../one-shot.ts';
import { type Api, OFFICE } from './api.ts';
import { answerChange, change, changeAnswers, changeHeaders, keyOf } from './change.ts';
import { type Manner, manner as mannerShape } from './kind-shapes.ts';
import { count, idParams, nextLink, paging } from './list-shapes.ts';
import { answer, problems } from './problem-docs.ts';

const config = { access: OFFICE };
const tags = ['set-aside'];

const setAside = z
  .strictObject({
    id,
    client: id,
    mutation: count,
    role: z.string().describe('Of whoever handed it in'),
    person: id.nullable(),
    outcome: z.enum(['set_aside', 'refused']),
    code: z.string(),
    detail: z.string(),
    waitsFor: z.array(id),
    standing: z.enum(STANDINGS).describe('waiting: for a record; kept: for a person; released: applied since'),
    receivedAt: instant,
    raw: z.string().describe('The bytes as they came, in base64'),
    text: z.string().nullable().describe('The same as text, where they are UTF-8'),
  })
  .meta({ id: 'SetAside', description: 'A change that was handed in and not applied, as it came' });

const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

function textOf(bytes: Buffer): string | null {
  try {
    return utf8.decode(bytes);
  } catch {
    return null;
  }
}

function body(info: SetAsideInfo): z.output<typeof setAside> {
  const waitsFor = [...info.waitsFor];
  return { ...info, waitsFor, raw: info.raw.toString('base64'), text: textOf(info.raw) };
}

function listRoute(api: Api, ctx: Context): void {
  const standing = z.enum(STANDINGS).optional().describe('Only those that stand so');
  const schema = {
    operationId: 'listSetAsides',
    summary: 'What was handed in and not applied, oldest first',
    tags,
    querystring: z.strictObject({ standing, ...paging }),
    response: {
      200: answer('A page', z.strictObject({ items: z.array(setAside), next: z.string().nullable() })),
      ...problems(),
    },
  };
  api.get('/set-asides', { schema, config }, async (request, reply) => {
    const { standing: wanted = null, ...page } = request.query;
    const { items, next } = await setAsidePage(ctx, request.actor, wanted, page);
    return reply.headers(nextLink(request.url, next)).send({ items: items.map(body), next });
  });
}

function getRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getSetAside',
    summary: 'One change that was not applied',
    tags,
    params: idParams,
    response: { 200: answer('As it came', setAside), ...problems('not_set_aside') },
  };
  api.get('/set-asides/:id', { schema, config }, async (request) =>
    body(await oneSetAside(ctx, request.actor, request.params.id)),
  );
}

const releaseBody = z
  .strictObject({ reason: mannerShape.reason, by: mannerShape.by })
  .nullish()
  .describe('May be left out')
  .meta({ id: 'Releasing' });

function releaseRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'releaseSetAside',
    summary: 'Let something that was set aside go ahead',
    description: 'It is tried again with your right and its author as author. Answers what became of it.',
    tags,
    params: idParams,
    headers: changeHeaders,
    body: releaseBody,
    response: changeAnswers(200, 'not_set_aside', 'release_failed'),
  };
  api.post('/set-asides/:id/release', { schema, config }, async (request, reply) => {
    const manner = (request.body ?? {}) as Manner;
    const shot: OneShot = { verb: 'release', kind: 'set-aside', id: request.params.id, ...manner };
    return answerChange(reply, shot, await change(ctx, request.actor, keyOf(request), shot));
  });
}

/** GET /set-asides, /set-asides/ID and POST /set-asides/ID/release: for the office. */
export function setAsideRoutes(api: Api, ctx: Context): void {
  listRoute(api, ctx);
  getRoute(api, ctx);
  releaseRoute(api, ctx);
}
