import type { Derived } from '../../rules/derive/derived.ts';
import type { Held } from '../../rules/held.ts';

/**
 * What is asked for, each judged once: reviews lie under the flags that they are of, which are known only then, and where
 * there is one it is judged again with it.
 *
 * @param loadReviews of the flags with these ids
 */
export async function judgedOnce(
  judges: readonly (() => readonly Derived[])[],
  loadReviews: (flags: readonly string[]) => Promise<readonly Pick<Held, 'parent'>[]>,
): Promise<Derived[]> {
  const first = judges.map((judge) => ({ judge, flags: judge() }));
  const reviews = await loadReviews(first.flatMap(({ flags }) => flags.map(({ id }) => id)));
  const reviewed = new Set(reviews.map(({ parent }) => parent));
  return first.flatMap(({ judge, flags }) => (flags.some(({ id }) => reviewed.has(id)) ? judge() : flags));
}
