import type { FastifyInstance, FastifyRequest } from 'fastify';
import { Problem } from '../protocol/problem.ts';

/** How a request that is in work gives its place back. */
const places = new WeakMap<FastifyRequest, () => void>();

/** An answer that goes on is no work any more once it has begun; what bounds it is another limit. */
export function leaveInFlight(request: FastifyRequest): void {
  places.get(request)?.();
}

/**
 * Refuses at once what would only wait: beyond this many requests in work, a new one is told to come back. Measured on
 * two cores, a server that takes everything answers a tenfold overload after many seconds; one that refuses, at once.
 */
export function limitInFlight(app: FastifyInstance, most: number): void {
  let inFlight = 0;
  app.addHook('onRequest', async (request, reply) => {
    if (request.routeOptions.config.access === 'open') return;
    if (inFlight >= most) throw new Problem('busy', `${most} requests are in work already`);
    if (reply.raw.closed) return;
    inFlight++;
    const leave = () => {
      if (places.delete(request)) inFlight--;
    };
    places.set(request, leave);
    reply.raw.once('close', leave);
  });
}
