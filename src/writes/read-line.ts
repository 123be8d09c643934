import { isUnreadable, type ReadMutation, readMutation, type Unreadable } from '../protocol/read-mutation.ts';

const NUL = '\0';

function isStorable(value: unknown): boolean {
  if (typeof value === 'string') return !value.includes(NUL) && value.isWellFormed();
  if (typeof value === 'number') return Number.isFinite(value);
  if (Array.isArray(value)) return value.every(isStorable);
  if (typeof value !== 'object' || value === null) return true;
  return Object.entries(value).every(([name, inner]) => isStorable(name) && isStorable(inner));
}

/** Where a mutation may hold any JSON value at all: what was seen, and the value that a conflict is resolved to. */
function loose({ mutation, kind, fields }: ReadMutation): [pointer: string, value: unknown][] {
  const { base, verb } = mutation;
  const seen: [string, unknown][] = base !== undefined && 'was' in base ? [['/base/was', base.was]] : [];
  return verb === 'resolve' || kind.name === 'resolution' ? [...seen, ['/set', fields]] : seen;
}

const WHY = 'holds NUL, half of a surrogate pair, or a number beyond all numbers (1e309), which nothing can give back';

/** Reads one mutation; JSON has values that parse but that neither a database nor a hash can take. */
export function readLine(text: string): ReadMutation | Unreadable {
  const read = readMutation(text);
  if (isUnreadable(read)) return read;
  const [bad] = loose(read).find(([, value]) => !isStorable(value)) ?? [];
  return bad === undefined ? read : { code: 'unreadable_record', pointer: bad, detail: `${bad} ${WHY}` };
}
