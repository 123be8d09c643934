import { kindNamed } from '../protocol/kinds-by-name.ts';
import type { Observed } from '../protocol/record.ts';
import type { HistoryEntry } from '../rules/record-history/history-entry.ts';

function text(value: unknown): string[] {
  return typeof value === 'string' ? [value] : [];
}

/** The people, places and things that an entry names, now or before. */
export function namedIn({
  kind,
  state,
  changes,
  handedInBy,
}: Pick<HistoryEntry, 'kind' | 'state' | 'changes' | 'handedInBy'>): string[] {
  const references = Object.keys(kindNamed(kind)?.references ?? {});
  const referring = changes.filter(({ field }) => references.includes(field));
  const observed = state?.fields.observed as Observed | undefined;
  const people = [state?.by, state?.voided?.by, observed?.readBy, observed?.writtenBy];
  const named = [...people, handedInBy?.device];
  return [...named.flatMap(text), ...referring.flatMap(({ was, is }) => [...text(was), ...text(is)])];
}
