import type { Mutation } from '../protocol/mutation.ts';
import { VOIDED } from '../rules/merge/merge-memory.ts';
import { baseInValues, type Was } from './base.ts';
import { type Base, type BaseOver, fieldsLaidOver } from './own-values.ts';
import type { OutboxEntry } from './store.ts';

/** A line about the same record that was captured before. */
interface Before {
  readonly mutation: Mutation;
}

export interface Earlier extends Before {
  readonly outcome: OutboxEntry['outcome'];
  /** It is written anew as well, under the same client id. */
  readonly moves: boolean;
}

/**
 * The fields that a line changes and that an own value lay over as it was captured, each with the line that gave that
 * value; undefined where that is not kept any more.
 *
 * @param earlier in order of capture
 */
export function coversOf<Line extends Before>(
  { base, ...mutation }: Mutation,
  earlier: readonly Line[],
): [string, Line | undefined][] {
  const under = base !== undefined && 'rev' in base ? base.under : undefined;
  if (under === undefined) return [];
  const fields = [...fieldsLaidOver(mutation), VOIDED].filter((field) => Object.hasOwn(under, field));
  return fields.map((field) => [field, earlier.findLast((one) => fieldsLaidOver(one.mutation).includes(field))]);
}

/**
 * What a base over own values becomes where the line goes by another client id. A value that goes along is still the
 * writer's own; one that stays with the former id is another's by now, seen in the revision that it brought; and where
 * that is not known, the values that were on the screen say it.
 *
 * @param earlier in order of capture
 */
export function baseOverAnew(
  base: BaseOver,
  line: { readonly mutation: Mutation; readonly was: Was },
  earlier: readonly Earlier[],
): Base | undefined {
  if (base.under === undefined) return base;
  const under = new Map(Object.entries(base.under));
  for (const [, cover] of coversOf(line.mutation, earlier)) {
    if (cover === undefined || (!cover.moves && cover.outcome?.rev === undefined)) return baseInValues(line.was);
  }
  for (const field of under.keys()) {
    const cover = earlier.findLast(({ mutation }) => fieldsLaidOver(mutation).includes(field));
    const brought = cover?.moves ? undefined : cover?.outcome?.rev;
    if (brought !== undefined) under.set(field, brought);
  }
  return { rev: base.rev, under: Object.fromEntries(under) };
}
