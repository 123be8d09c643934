import { canonicalText } from '../../protocol/content-hash.ts';
import { isSameJson } from '../../protocol/same-json.ts';
import type { FieldChange } from '../../rules/record-history/field-changes.ts';

/** A change of one plain value, as it stands in a cell; null where there was, or is, nothing. */
export interface FlatChange {
  readonly field: string;
  readonly was: string | null;
  readonly is: string | null;
}

type Loose = Readonly<Record<string, unknown>>;

function isObject(value: unknown): value is Loose {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function cellText(value: unknown): string | null {
  if (value === undefined || value === null) return null;
  return typeof value === 'string' ? value : canonicalText(value);
}

function flat(field: string, was: unknown, is: unknown): FlatChange[] {
  if (isSameJson(was ?? null, is ?? null)) return [];
  if (!isObject(was) && !isObject(is)) return [{ field, was: cellText(was), is: cellText(is) }];
  const [old, now] = [isObject(was) ? was : {}, isObject(is) ? is : {}];
  const members = [...new Set([...Object.keys(old), ...Object.keys(now)])].sort();
  return members.flatMap((member) => flat(`${field}.${member}`, old[member], now[member]));
}

/** Changes down to plain values (`observed.at`); a list stays one value. */
export function flatChanges(changes: readonly FieldChange[]): FlatChange[] {
  return changes.flatMap(({ field, was, is }) => flat(field, was, is));
}
