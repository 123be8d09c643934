/** Texts that are read once; a longer list is begun anew, since each world has its own. */
const MOST = 20_000;

const known = new Map<string, unknown>();

function frozen(_key: string, value: unknown): unknown {
  return Object.freeze(value);
}

/**
 * What a database gives for a JSON text. Rows of the same text share one value, and it is frozen: whoever changes what was
 * read would be found out, where a database that reads it anew would hide that.
 */
export function parsed(text: string): unknown {
  const before = known.get(text);
  if (before !== undefined) return before;
  const value: unknown = JSON.parse(text, frozen);
  if (known.size >= MOST) known.clear();
  known.set(text, value);
  return value;
}
