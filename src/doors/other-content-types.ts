import type { FastifyInstance } from 'fastify';
import { Problem } from '../protocol/problem.ts';

/** Refuses a body of any content type that the instance has no parser for, by what was given and what it takes. */
export function refuseOtherContentTypes(app: FastifyInstance, taken: string): void {
  app.addContentTypeParser('*', (request, _payload, done) => {
    const given = JSON.stringify(request.headers['content-type']?.slice(0, 80) ?? null);
    done(new Problem('unsupported_media', `the content type is ${given}; this door takes ${taken}`));
  });
}
