/** Up to this many keys, inserting each where it belongs is faster than the sort of the language. */
const FEW_KEYS = 40;
/** Deeper than any record: what nests further may be a circle, which only the reference implementation finds. */
const DEEPEST = 64;

type Loose = Readonly<Record<string, unknown>>;

/** Thrown for what is not plain JSON. */
const NOT_PLAIN = Symbol('not plain');

/** By UTF-16 code units, as RFC 8785 wants it and as `<` compares. */
function inOrder(keys: string[]): string[] {
  if (keys.length > FEW_KEYS) return keys.sort();
  for (let at = 1; at < keys.length; at++) {
    const key = keys[at] as string;
    let to = at - 1;
    for (; to >= 0 && (keys[to] as string) > key; to--) keys[to + 1] = keys[to] as string;
    keys[to + 1] = key;
  }
  return keys;
}

/** Objects list keys that look like numbers first and treat these two in their own way, whatever order they get. */
function isOdd(key: string): boolean {
  const first = key.charCodeAt(0);
  return (first >= 0x30 && first <= 0x39) || key === '__proto__' || key === 'toJSON';
}

function areInOrder(keys: readonly string[]): boolean {
  for (let at = 1; at < keys.length; at++) if ((keys[at - 1] as string) > (keys[at] as string)) return false;
  return true;
}

/** What came as canonical text is in order already, and stays as it is. */
function sortedObject(value: Loose, depth: number): Loose {
  const prototype = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) throw NOT_PLAIN;
  const keys = Object.keys(value);
  let sorted: Record<string, unknown> | null = areInOrder(keys) ? null : {};
  if (sorted) inOrder(keys);
  for (let at = 0; at < keys.length; at++) {
    const key = keys[at] as string;
    if (isOdd(key)) throw NOT_PLAIN;
    const member = value[key];
    if (member === undefined) continue;
    const own = sortedValue(member, depth);
    if (sorted === null && own !== member) {
      sorted = {};
      for (const before of keys.slice(0, at)) sorted[before] = value[before];
    }
    if (sorted) sorted[key] = own;
  }
  return sorted ?? value;
}

function sortedArray(value: readonly unknown[], depth: number): readonly unknown[] {
  if ('toJSON' in value) throw NOT_PLAIN;
  let sorted: unknown[] | null = null;
  for (let at = 0; at < value.length; at++) {
    const own = sortedValue(value[at], depth);
    if (sorted === null && own !== value[at]) sorted = value.slice(0, at);
    if (sorted) sorted.push(own);
  }
  return sorted ?? value;
}

/** The same value with the keys of its objects in order, so that the language itself can write it. */
function sortedValue(value: unknown, depth: number): unknown {
  switch (typeof value) {
    case 'string':
    case 'boolean':
      return value;
    case 'number':
      if (!Number.isFinite(value)) throw NOT_PLAIN;
      return value;
    case 'object':
      break;
    default:
      throw NOT_PLAIN;
  }
  if (value === null) return null;
  if (depth >= DEEPEST) throw NOT_PLAIN;
  return Array.isArray(value) ? sortedArray(value, depth + 1) : sortedObject(value as Loose, depth + 1);
}

/** Half of a surrogate pair is written as an escape, and RFC 8785 allows none; some other texts look alike. */
const MAY_BE_HALF_A_PAIR = '\\ud';

/**
 * The RFC 8785 text of plain JSON, the same as the reference implementation gives: keys are put in order, and the
 * language writes the rest, whose texts of numbers and strings are those of RFC 8785.
 *
 * @returns null for everything else (a Date, NaN, half of a surrogate pair, a function, a circle ...)
 */
export function plainJsonText(value: unknown): string | null {
  try {
    const text = JSON.stringify(sortedValue(value, 0));
    return text.includes(MAY_BE_HALF_A_PAIR) ? null : text;
  } catch (error) {
    if (error === NOT_PLAIN) return null;
    throw error;
  }
}
