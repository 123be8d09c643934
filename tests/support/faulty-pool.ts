import { setTimeout as sleep } from 'node:timers/promises';
import type pg from 'pg';

/** What a test does between the statements of a write: it may wait, write beside it, or throw. */
export type Between = (statement: string, client: pg.PoolClient) => Promise<void> | void;

function textOf(query: unknown): string {
  return typeof query === 'string' ? query : ((query as { text?: string }).text ?? '');
}

/** Statements keep their order, also where they are sent without waiting for each other. */
function watched(client: pg.PoolClient, before: Between): pg.PoolClient {
  let last: Promise<unknown> = Promise.resolve();
  const query = (...given: readonly unknown[]) => {
    const act = async () => {
      await before(textOf(given[0]), client);
      return Reflect.apply(client.query, client, given) as Promise<pg.QueryResult>;
    };
    const turn = last.then(act);
    last = turn.catch(() => undefined);
    return turn;
  };
  return new Proxy(client, {
    get: (target, name) => {
      if (name === 'query') return query;
      const value: unknown = Reflect.get(target, name, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}

/** The same pool, whose connections let a test step in before each statement. */
export function faultyPool(pool: pg.Pool, before: Between): pg.Pool {
  return new Proxy(pool, {
    get: (target, name) => {
      if (name === 'connect') return async () => watched(await target.connect(), before);
      const value: unknown = Reflect.get(target, name, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}

export class InjectedFault extends Error {}

/**
 * Waits a little before some statements and, in one of ten transactions, throws just before the commit.
 *
 * @param thrown told of each throw: who wrote may not notice, since what failed is tried again in parts
 */
export function pausesAndRollbacks(random: () => number, most: number, thrown: () => void): Between {
  return async (statement) => {
    if (statement === 'commit' || random() < 0.1) await sleep(random() * most);
    if (statement !== 'commit' || random() >= 0.1) return;
    thrown();
    throw new InjectedFault('a fault that a test threw before the commit');
  };
}

/** Numbers between 0 and 1 that are the same for the same seed (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}
