import type { Held } from '../../rules/held.ts';
import type { SentAnew } from '../../store/write/suite-coolers.ts';
import type { Draft } from '../group.ts';
import { isNamedAnew, sides } from './draft-change.ts';

interface OfGroup {
  readonly group: string;
  readonly laboratory?: string | null;
}

/** Where a suite sends each of its groups; of two of one group the first counts. */
function sending({ state }: Held): ReadonlyMap<string, string | null> {
  const groups = state.fields.groups as readonly OfGroup[];
  return new Map(groups.toReversed().map(({ group, laboratory }) => [group, laboratory ?? null]));
}

/** What a change of a suite sends elsewhere: how long something keeps, or in what bottle, moves none to another laboratory. */
export function sentAnew(draft: Draft): readonly SentAnew[] {
  const before = draft.before ?? draft.held;
  const names = [...new Set(sides(draft).map(({ state }) => String(state.fields.name)))];
  if (isNamedAnew(draft)) return names.map((suite) => ({ suite, group: null }));
  const [now, then] = [sending(draft.held), sending(before)];
  const groups = [...new Set([...now.keys(), ...then.keys()])].filter((group) => now.get(group) !== then.get(group));
  return names.flatMap((suite) => groups.map((group) => ({ suite, group })));
}
