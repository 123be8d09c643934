import type { Context } from '../context.ts';
import { Problem } from '../protocol/problem.ts';

/** A plan works for seconds: more at once would only have everybody else wait for the processor and for connections. */
const MOST_AT_ONCE = 2;

/** Firms that plan now, by what they plan through. */
const planning = new WeakMap<Context['pool'], Set<string>>();

/**
 * Plans in one of the few places that this process has for it, one a firm: the batches of a firm wait for one another
 * anyway. Who finds none is told at once, before a connection is taken.
 *
 * @throws Problem `busy`
 */
export async function inPlanningPlace<Result>(
  pool: Context['pool'],
  firm: string,
  work: () => Promise<Result>,
): Promise<Result> {
  const firms = planning.get(pool) ?? new Set();
  planning.set(pool, firms);
  if (firms.has(firm)) throw new Problem('busy', 'somebody of your firm plans samples just now: ask again');
  if (firms.size >= MOST_AT_ONCE) {
    throw new Problem('busy', `the samples of ${MOST_AT_ONCE} events are being planned just now: ask again`);
  }
  firms.add(firm);
  try {
    return await work();
  } finally {
    firms.delete(firm);
  }
}
