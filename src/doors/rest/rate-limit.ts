import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance } from 'fastify';
import { Problem } from '../../protocol/problem.ts';
import { RequestCounts } from './request-counts.ts';

/** Generous: a screen that refreshes every second, and a person who clicks, stay far below it. */
export const REQUESTS_PER_MINUTE = 3_000;

/**
 * Limits the requests of a token, or of an address that shows none. Counted in memory, so each process counts for
 * itself: behind a balancer the limit is as many times larger as there are processes. Pushes are not counted here;
 * what they cost is bounded by their size and by the requests in work at once.
 */
export function limitRate(app: FastifyInstance, perMinute: number): void {
  void app.register(rateLimit, {
    max: perMinute,
    timeWindow: 60_000,
    store: RequestCounts,
    enableDraftSpec: true,
    keyGenerator: (request) => request.actor?.token ?? request.ip,
    errorResponseBuilder: (_request, { max, after }) =>
      new Problem('too_many', `more than ${max} requests in a minute; go on in ${after}`, { limit: max }),
  });
}
