import { randomUUID } from 'node:crypto';
import { z } from 'zod';
import type { Context } from '../../../context.ts';
import type { Role } from '../../../protocol/kind.ts';
import { id, instant, text } from '../../../protocol/primitives.ts';
import { Problem } from '../../../protocol/problem.ts';
import { oneToken, tokenPage } from '../../../reads/token-page.ts';
import { newSecret, secretHash } from '../../../store/tokens.ts';
import { insertToken, revokeToken } from '../../../store/write/token-rows.ts';
import { EVERY_ROLE, LABORATORY, type TokenMemory } from '../../authenticate.ts';
import { mustBeRecord, mustRule } from '../../issue-rights.ts';
import { type Api, OFFICE } from '../api.ts';
import { idParams, nextLink, paging } from '../list-shapes.ts';
import { answer, BODY_CODES, problems } from '../problem-docs.ts';

const config = { access: OFFICE };
const tags = ['token'];
const ROLES: readonly Role[] = [...EVERY_ROLE, ...LABORATORY];

const token = z
  .strictObject({
    id,
    label: z.string(),
    role: z.enum(ROLES),
    device: id.nullable(),
    laboratory: id.nullable(),
    createdAt: instant,
    expiresAt: instant.nullable(),
    revokedAt: instant.nullable(),
  })
  .meta({ id: 'Token', description: 'A token without its secret, which is shown once and not kept' });

const issued = token.extend({ secret: z.string().describe('Shown this once') }).meta({ id: 'IssuedToken' });

const revoked = token
  .extend({
    withdrawnCodes: z
      .array(z.strictObject({ id, label: z.string() }))
      .describe('Enrolment codes that it had made and nobody had used: they are withdrawn with it'),
  })
  .meta({ id: 'RevokedToken' });

const newToken = z
  .strictObject({
    label: text().describe('Whose it is, in words'),
    role: z.enum(ROLES),
    device: id.optional().describe('The device record that it speaks for; a crew token needs one'),
    laboratory: id.optional().describe('The laboratory record that it speaks for; a laboratory token needs one'),
    expiresAt: instant.optional(),
  })
  .meta({ id: 'NewToken' });

/** A crew is known by its device: without one a token of that role follows no event and records for nobody. */
function mustSpeakForDevice(role: Role, device: string | undefined): void {
  if (role !== 'crew' || device !== undefined) return;
  const detail = '/device is missing: a crew token speaks for a device, whose crew and person are those of the token';
  throw new Problem('unreadable_record', detail, { pointer: '/device' });
}

interface SpokenFor {
  readonly device?: string | undefined;
  readonly laboratory?: string | undefined;
}

/** A laboratory sees what is told to that laboratory, so its token says which one it is; nobody else speaks for one. */
function mustSpeakForLaboratory(role: Role, { device, laboratory }: SpokenFor): void {
  const isOne = role === 'laboratory';
  if (isOne === (laboratory !== undefined) && !(isOne && device !== undefined)) return;
  const fault = !isOne
    ? `/laboratory was given: a token of the role ${role} speaks for no laboratory`
    : laboratory === undefined
      ? '/laboratory is missing: a token of that role speaks for a laboratory of the firm; give the id of its record'
      : '/device was given: a token of a laboratory speaks for no device of the firm';
  const pointer = isOne && laboratory !== undefined ? '/device' : '/laboratory';
  throw new Problem('unreadable_record', fault, { pointer });
}

function mustLieAhead(expiresAt: string | undefined, now: Date): void {
  if (expiresAt === undefined || Date.parse(expiresAt) > now.getTime()) return;
  throw new Problem('unreadable_record', `/expiresAt ${expiresAt} is past already`, { pointer: '/expiresAt' });
}

function issueRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'issueToken',
    summary: 'Issue a token',
    description: 'The secret is in this answer and nowhere else, so a repeated request makes another token.',
    tags,
    body: newToken,
    response: { 201: answer('The token with its secret', issued), ...problems(...BODY_CODES) },
  };
  api.post('/tokens', { schema, config }, async (request, reply) => {
    const { label, role, device, laboratory, expiresAt } = request.body;
    const { firm, role: own } = request.actor;
    mustRule(own, role);
    mustLieAhead(expiresAt, ctx.now());
    mustSpeakForDevice(role, device);
    await mustBeRecord(ctx, firm, 'device', device);
    await mustBeRecord(ctx, firm, 'laboratory', laboratory);
    mustSpeakForLaboratory(role, request.body);
    const secret = newSecret();
    const spokenFor = { device: device ?? null, laboratory: laboratory ?? null };
    const shown = { id: randomUUID(), label, role, ...spokenFor, createdAt: ctx.now().toISOString() };
    await insertToken(ctx.pool, { ...shown, firm, hash: secretHash(secret), expiresAt: expiresAt ?? null });
    reply.code(201).header('cache-control', 'no-store').header('location', `/v1/tokens/${shown.id}`);
    return { ...shown, expiresAt: expiresAt ?? null, revokedAt: null, secret };
  });
}

function listRoutes(api: Api, ctx: Context): void {
  const list = {
    operationId: 'listTokens',
    summary: 'The tokens of the firm, without their secrets',
    tags,
    querystring: z.strictObject(paging),
    response: {
      200: answer('A page', z.strictObject({ items: z.array(token), next: z.string().nullable() })),
      ...problems(),
    },
  };
  api.get('/tokens', { schema: list, config }, async (request, reply) => {
    const { items, next } = await tokenPage(ctx, request.actor, request.query);
    return reply.headers(nextLink(request.url, next)).send({ items: [...items], next });
  });
  const one = {
    operationId: 'getToken',
    summary: 'One token, without its secret',
    tags,
    params: idParams,
    response: { 200: answer('The token', token), ...problems('not_found') },
  };
  api.get('/tokens/:id', { schema: one, config }, async (request) => oneToken(ctx, request.actor, request.params.id));
}

function revokeRoute(api: Api, ctx: Context, memory: TokenMemory): void {
  const schema = {
    operationId: 'revokeToken',
    summary: 'Withdraw a token',
    description: 'At once in this process, within two seconds in every other. What its device still hands in is kept.',
    tags,
    params: idParams,
    response: { 200: answer('The token', revoked), ...problems('not_found', ...BODY_CODES) },
  };
  api.post('/tokens/:id/revoke', { schema, config }, async (request) => {
    const { firm, role } = request.actor;
    const { id: which } = request.params;
    mustRule(role, (await oneToken(ctx, request.actor, which)).role);
    const withdrawnCodes = await revokeToken(ctx.pool, firm, which, ctx.now().toISOString());
    memory.forget();
    return { ...(await oneToken(ctx, request.actor, which)), withdrawnCodes };
  });
}

/** POST /tokens, GET /tokens, /tokens/ID and POST /tokens/ID/revoke. */
export function tokenRoutes(api: Api, ctx: Context, memory: TokenMemory): void {
  issueRoute(api, ctx);
  listRoutes(api, ctx);
  revokeRoute(api, ctx, memory);
}
