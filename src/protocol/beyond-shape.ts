import type { z } from 'zod';
import { isStorable } from './storable.ts';

export type Path = readonly PropertyKey[];

/**
 * So much that is unknown is no step of a version, and taking it out one by one costs the square of its number: 4,000
 * fields in one line stopped a server for 17 s. More than that waits for a server that knows them.
 */
const MOST_UNKNOWN = 100;

/** A member of an object that the shape does not have. */
interface Beyond {
  readonly path: Path;
  readonly value: unknown;
}

/** What a shape makes of a value, with everything that it does not know left where it stands. */
export interface ReadBeyond {
  readonly value: unknown;
  /** The same without what the shape does not know. */
  readonly known: unknown;
  /** Where it holds what the shape does not know. */
  readonly beyond: readonly Path[];
}

export function valueAt(root: unknown, path: Path): unknown {
  return path.reduce<unknown>((value, part) => Reflect.get(value as object, part), root);
}

function changedAt(root: unknown, path: Path, change: (inner: unknown) => unknown): unknown {
  const [first, ...rest] = path;
  if (first === undefined) return change(root);
  if (Array.isArray(root)) return root.map((one, at) => (at === first ? changedAt(one, rest, change) : one));
  const object = root as Readonly<Record<PropertyKey, unknown>>;
  return { ...object, [first]: changedAt(object[first], rest, change) };
}

/** The value without what stands at a place: a member of an object, or one of a list. */
export function without(root: unknown, path: Path): unknown {
  const name = path.at(-1);
  return changedAt(root, path.slice(0, -1), (inner) =>
    Array.isArray(inner)
      ? inner.filter((_, at) => at !== name)
      : Object.fromEntries(Object.entries(inner as object).filter(([key]) => key !== name)),
  );
}

function unknownIn(error: z.ZodError, given: unknown): Beyond[] {
  return error.issues.flatMap((issue) => {
    if (issue.code !== 'unrecognized_keys') return [];
    const paths = issue.keys.map((key) => [...issue.path, key]);
    return paths.map((path) => ({ path, value: valueAt(given, path) }));
  });
}

/**
 * Reads a value that a newer version wrote: what the shape knows has to be as it asks, what it does not know stays
 * where it is, whatever it holds, also inside of the objects and lists that it knows.
 */
export function readBeyond(schema: z.ZodType, given: unknown): ReadBeyond | z.ZodError {
  const beyond: Beyond[] = [];
  for (let known = given; ; ) {
    const parsed = schema.safeParse(known);
    if (parsed.success) {
      const value = beyond.reduce<unknown>((whole, one) => changedAt(whole, one.path, () => one.value), parsed.data);
      return { value, known: parsed.data, beyond: beyond.map(({ path }) => path) };
    }
    const found = unknownIn(parsed.error, known);
    if (found.length === 0 || beyond.length + found.length > MOST_UNKNOWN) return parsed.error;
    beyond.push(...found);
    known = found.reduce<unknown>((rest, { path }) => without(rest, path), known);
  }
}

/** The names that fields have; what else may stand there, nobody's rules for merging and showing have met. */
const FIELD_NAME = /^[a-z][A-Za-z0-9]{0,63}$/;

/** Where a field of a record has a name that no field may have: then it cannot be kept as one. */
export function oddName(beyond: readonly Path[]): Path | undefined {
  return beyond.find((path) => path.length === 1 && (!FIELD_NAME.test(String(path[0])) || String(path[0]) in {}));
}

/** Where something is kept that nothing could give back. */
export function unstorable({ value, beyond }: ReadBeyond): Path | undefined {
  return beyond.find((path) => !isStorable(path.at(-1)) || !isStorable(valueAt(value, path)));
}
