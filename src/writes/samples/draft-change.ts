import type { Held } from '../../rules/held.ts';
import type { Draft } from '../group.ts';

/** As it is, and as it was. */
export function sides({ held, before }: Pick<Draft, 'held' | 'before'>): readonly Held[] {
  return before === null ? [held] : [held, before];
}

export function textOf(value: unknown): string[] {
  return typeof value === 'string' ? [value] : [];
}

/** What the plan of an event says of samples. */
export function samplingOf({ state }: Held): unknown {
  return (state.fields.plan as { readonly sampling?: unknown } | undefined)?.sampling ?? null;
}

/** Whether it counts now and did not before, or the other way about: it left the feed, or was voided or taken up again. */
export function countsAnew({ held, before, leaves }: Draft): boolean {
  if (before === null || leaves !== null) return true;
  return (held.state.voided === null) !== (before.state.voided === null);
}

/** Whether there is something of that name where there was nothing, or the other way about. */
export function isNamedAnew(draft: Draft): boolean {
  return countsAnew(draft) || draft.held.state.fields.name !== draft.before?.state.fields.name;
}
