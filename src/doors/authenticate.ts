import type { FastifyInstance, FastifyRequest, RouteOptions } from 'fastify';
import type { Context } from '../context.ts';
import type { Role } from '../protocol/kind.ts';
import { Problem } from '../protocol/problem.ts';
import { findToken, secretHash, type TokenRow } from '../store/tokens.ts';
import type { Actor } from '../writes/batch.ts';

/** Who may use a route: these roles, or everyone without a token. */
export type Access = readonly Role[] | 'open';

/** Everybody of the firm. A laboratory is not: a route that it may use says so. */
export const EVERY_ROLE: readonly Role[] = ['crew', 'coordinator', 'dashboard', 'admin'];
export const LABORATORY: readonly Role[] = ['laboratory'];

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Every route says who may use it, or the server does not start. */
    access?: Access;
    /** A revoked device may still use it: what it hands in is set aside. */
    revokedToo?: boolean;
  }
  interface FastifyRequest {
    actor: Actor;
  }
}

/** How long a token that was looked up is believed: a revocation takes effect within it on every process. */
const BELIEVED_MS = 1_000;
const MOST_REMEMBERED = 10_000;

export interface TokenMemory {
  find(secret: string): Promise<TokenRow | null>;
  /** Forgets what is remembered, so that a change made here takes effect at once. */
  forget(): void;
}

/** Looks tokens up, remembering each for a second. */
export function tokenMemory(ctx: Context): TokenMemory {
  const known = new Map<string, { readonly row: TokenRow | null; readonly at: number }>();
  return {
    async find(secret) {
      const key = secretHash(secret).toString('base64');
      const nowMs = performance.now();
      const remembered = known.get(key);
      if (remembered && nowMs - remembered.at < BELIEVED_MS) return remembered.row;
      if (known.size >= MOST_REMEMBERED) known.clear();
      const row = await findToken(ctx.pool, secret);
      known.set(key, { row, at: nowMs });
      return row;
    },
    forget: () => known.clear(),
  };
}

function secretOf(request: FastifyRequest): string {
  const [scheme, secret, ...rest] = (request.headers.authorization ?? '').split(' ');
  if (scheme?.toLowerCase() === 'bearer' && secret && rest.length === 0) return secret;
  throw new Problem('unauthenticated', 'the header Authorization: Bearer TOKEN is missing or has another form');
}

function actorOf(row: TokenRow | null, ctx: Context): Actor {
  if (!row) throw new Problem('unauthenticated', 'the token is not known');
  if (row.expiresAt !== null && Date.parse(row.expiresAt) <= ctx.now().getTime()) {
    throw new Problem('token_expired', `the token expired at ${row.expiresAt}`);
  }
  const { firm, id, role, device, laboratory, person } = row;
  return { firm, token: id, role, device, laboratory, person, revoked: row.revokedAt !== null };
}

function check(request: FastifyRequest, actor: Actor): void {
  const { access, revokedToo } = request.routeOptions.config;
  if (actor.revoked && !revokedToo) throw new Problem('unauthenticated', 'the token was revoked');
  if (access === undefined || access === 'open' || access.includes(actor.role)) return;
  throw new Problem('forbidden', `the role ${actor.role} may not do this; ${access.join(' and ')} may`);
}

/** Every route of the instance says who may use it; those that are not open see who speaks in `request.actor`. */
export function guard(app: FastifyInstance, ctx: Context, memory: TokenMemory): void {
  app.decorateRequest('actor', undefined as unknown as Actor);
  const routes: RouteOptions[] = [];
  app.addHook('onRoute', (route) => {
    routes.push(route);
  });
  // looked at last, since the plugin around a package's own routes says it for them
  app.addHook('onReady', async () => {
    const silent = routes.find((route) => route.config?.access === undefined);
    if (!silent) return;
    throw new Error(`the route ${String(silent.method)} ${silent.url} does not say who may use it: config.access`);
  });
  app.addHook('onRequest', async (request) => {
    const { access } = request.routeOptions.config;
    if (access === undefined || access === 'open') return;
    const actor = actorOf(await memory.find(secretOf(request)), ctx);
    check(request, actor);
    request.actor = actor;
  });
}
