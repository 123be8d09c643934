import type { FastifyRateLimitStore } from '@fastify/rate-limit';

/** Whoever has asked for longest ago is forgotten first. */
const MOST = 20_000;

interface Minute {
  readonly sinceMs: number;
  count: number;
}

/**
 * Counts requests by the time that passes, not by the clock: where that was hours ahead and was set right, a count by
 * the clock would go on for hours, and whoever looked again and again would be turned away for as long.
 */
export class RequestCounts implements FastifyRateLimitStore {
  readonly #minutes = new Map<string, Minute>();

  incr(key: string, answer: Parameters<FastifyRateLimitStore['incr']>[1], windowMs: number): void {
    const nowMs = performance.now();
    const known = this.#minutes.get(key);
    const minute = known && nowMs - known.sinceMs < windowMs ? known : { sinceMs: nowMs, count: 0 };
    minute.count += 1;
    // the order of a map is that of being put into it
    this.#minutes.delete(key);
    this.#minutes.set(key, minute);
    const [oldest] = this.#minutes.keys();
    if (oldest !== undefined && this.#minutes.size > MOST) this.#minutes.delete(oldest);
    answer(null, { current: minute.count, ttl: minute.sinceMs + windowMs - nowMs });
  }

  child(): RequestCounts {
    return new RequestCounts();
  }
}
