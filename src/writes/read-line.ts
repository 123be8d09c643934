import type { Mutation } from '../protocol/mutation.ts';
import { isUnreadable, type ReadMutation, readMutation, type Unreadable } from '../protocol/read-mutation.ts';
import { isStorable } from '../protocol/storable.ts';
import type { Versions } from '../protocol/version.ts';

/** The names of fields are not looked up: what was seen of one that is not known here is kept as well. */
function looseIn(base: Mutation['base']): [pointer: string, value: unknown][] {
  if (base === undefined || 'after' in base) return [];
  return 'was' in base ? [['/base/was', base.was]] : [['/base/under', base.under ?? {}]];
}

/** Where a mutation may hold any JSON value at all: what was seen, and the value that a conflict is resolved to. */
function loose({ mutation, kind, fields }: ReadMutation): [pointer: string, value: unknown][] {
  const { base, verb } = mutation;
  const seen = looseIn(base);
  return verb === 'resolve' || kind.name === 'resolution' ? [...seen, ['/set', fields]] : seen;
}

const WHY = 'holds NUL, half of a surrogate pair, or a number beyond all numbers (1e309), which nothing can give back';

/** Reads one mutation; JSON has values that parse but that neither a database nor a hash can take. */
export function readLine(text: string, version?: number, versions?: Versions): ReadMutation | Unreadable {
  const read = readMutation(text, version, versions);
  if (isUnreadable(read)) return read;
  const [bad] = loose(read).find(([, value]) => !isStorable(value)) ?? [];
  return bad === undefined ? read : { code: 'unreadable_record', pointer: bad, detail: `${bad} ${WHY}` };
}
