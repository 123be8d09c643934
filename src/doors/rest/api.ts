import type { IncomingMessage, ServerResponse } from 'node:http';
import type { FastifyBaseLogger, FastifyInstance, RawServerDefault } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import type { Role } from '../../protocol/kind.ts';

/** An instance whose routes take zod schemas. */
export type Api = FastifyInstance<
  RawServerDefault,
  IncomingMessage,
  ServerResponse,
  FastifyBaseLogger,
  ZodTypeProvider
>;

/** Whoever may hand in a change; what a role may not write is set aside, as in a push. */
export const WRITERS: readonly Role[] = ['crew', 'coordinator', 'admin'];
export const OFFICE: readonly Role[] = ['coordinator', 'admin'];
