import { canonicalText } from '../../protocol/content-hash.ts';

type Json = Readonly<Record<string, unknown>>;

const PREFIX = '#/components/schemas/';

function refsIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => {
    const isRef = key === '$ref' && typeof inner === 'string' && inner.startsWith(PREFIX);
    return isRef ? [inner.slice(PREFIX.length)] : refsIn(inner);
  });
}

/** The schemas that are referred to, also by way of others. */
function reachable(from: unknown, schemas: Json): Set<string> {
  const found = new Set<string>();
  const queue = refsIn(from);
  for (let name = queue.pop(); name !== undefined; name = queue.pop()) {
    if (found.has(name)) continue;
    found.add(name);
    queue.push(...refsIn(schemas[name]));
  }
  return found;
}

function rename(value: unknown, names: ReadonlyMap<string, string>): unknown {
  if (Array.isArray(value)) return value.map((inner) => rename(inner, names));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => {
      const target = key === '$ref' && typeof inner === 'string' ? names.get(inner.slice(PREFIX.length)) : undefined;
      return [key, target === undefined ? rename(inner, names) : PREFIX + target];
    }),
  );
}

/**
 * Each schema comes as it is read and as it is written; where only one is in use, or both say the same, one stays. Two
 * say the same if they do once their own parts have been renamed, so those that turn out to differ are struck off until
 * nothing changes.
 */
function newNames(names: ReadonlySet<string>, schemas: Json): Map<string, string> {
  const plain = (name: string) => name.replace(/Input$/, '');
  const twins = [...names].filter((name) => plain(name) !== name && plain(name) in schemas);
  const renamed = new Map(twins.map((name) => [name, plain(name)]));
  const text = (name: string) => canonicalText(rename(schemas[name], renamed));
  const differs = () => [...renamed].find(([name, to]) => names.has(to) && text(name) !== text(to));
  for (let odd = differs(); odd !== undefined; odd = differs()) renamed.delete(odd[0]);
  return renamed;
}

/** Leaves in a document the schemas that it uses, each once, under the name that it was given. */
export function tidyComponents<Document extends object>(document: Document): Document {
  const { components: all = {} } = document as { components?: { schemas?: object } };
  const { schemas = {}, ...components } = all;
  const given = schemas as Json;
  const used = reachable({ ...document, components: null }, given);
  const names = newNames(used, given);
  const kept = [...used].sort().map((name) => [names.get(name) ?? name, given[name]] as const);
  const tidy = { ...document, components: { ...components, schemas: Object.fromEntries(kept) } };
  return rename(tidy, names) as Document;
}
