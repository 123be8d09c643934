/** One record of the firm as the office enters it. */
export interface Entry {
  readonly kind: string;
  readonly id: string;
  readonly set: Readonly<Record<string, unknown>>;
}

/**
 * Gives the id of the record of a kind under its name; made at the first mention, by the office's own maker of ids, so
 * that the lists below may name each other in any order. A name that nobody enters waits at the server for ever, and
 * the demo then says so.
 */
export type IdOf = (kind: string, name: string) => string;

export function idBook(newId: () => string): IdOf {
  const ids = new Map<string, string>();
  return (kind, name) => {
    const key = `${kind} ${name}`;
    const id = ids.get(key) ?? newId();
    ids.set(key, id);
    return id;
  };
}
