import type { FastifyInstance, FastifyRequest } from 'fastify';
import { Problem } from '../protocol/problem.ts';

function hasBody({ headers }: FastifyRequest): boolean {
  return headers['transfer-encoding'] !== undefined || Number(headers['content-length'] ?? 0) > 0;
}

/**
 * Bodies are read as they come. One that is compressed would look cut or not like UTF-8, and its sender would be told
 * to send the same again; a small body that unfolds into a huge one has nothing to unfold here.
 */
export function refuseEncodings(app: FastifyInstance): void {
  app.addHook('preParsing', async (request) => {
    const encoding = request.headers['content-encoding'] ?? 'identity';
    if (encoding === 'identity' || !hasBody(request)) return;
    const given = JSON.stringify(encoding.slice(0, 80));
    throw new Problem('unsupported_media', `the content encoding is ${given}; this server takes bodies as they are`);
  });
}
