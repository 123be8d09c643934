import { figuresOfItem, plainContent } from '../../src/catalog/catalog-figures.ts';
import type { CatalogItem, CatalogSection } from '../../src/catalog/catalog-section.ts';

function everyObject(value: unknown, found: Set<unknown>): Set<unknown> {
  if (typeof value !== 'object' || value === null || found.has(value)) return found;
  found.add(value);
  for (const inner of Object.values(value)) everyObject(inner, found);
  return found;
}

function everyText(value: unknown, found: Set<string>): Set<string> {
  if (typeof value === 'string') found.add(value);
  if (typeof value === 'object' && value !== null) for (const one of Object.values(value)) everyText(one, found);
  return found;
}

function isNumber(value: unknown): boolean {
  return typeof value === 'number' || (typeof value === 'string' && /^-?\d+(?:\.\d+)?$/.test(value));
}

function isVocabulary(value: unknown): boolean {
  return Array.isArray(value) && value.every((one) => typeof one === 'string' && /^[a-z][a-z0-9-]*$/.test(one));
}

/** What sections show, to look up whether something is among it. */
export class ServedData {
  readonly #objects: ReadonlySet<unknown>;
  readonly #texts: ReadonlySet<string>;

  constructor(sections: readonly CatalogSection[]) {
    const items = sections.flatMap((section) => section.items);
    this.#objects = everyObject(
      items.map(({ content }) => content),
      new Set(),
    );
    this.#texts = everyText([items, items.map(({ content }) => plainContent(content))], new Set());
  }

  /**
   * The parts of exported data that no section shows: objects by themselves, as a figure that only looks the same is
   * another one; names and sources by their text. A list of words alone is how choices are spelt, and no data.
   */
  missing(value: unknown, at: string): string[] {
    if (typeof value === 'function' || typeof value === 'boolean' || value === null || value === undefined) return [];
    if (isNumber(value)) return [`${at} ${String(value)}`];
    if (typeof value === 'string') return this.#texts.has(value) ? [] : [`${at} ${JSON.stringify(value)}`];
    if (this.#objects.has(value) || isVocabulary(value)) return [];
    return Object.entries(value).flatMap(([key, inner]) => this.missing(inner, `${at}.${key}`));
  }
}

/** Numbers of an item that no figure of it tells, but for those that are names or dates. */
export function untoldNumbers(item: CatalogItem): string[] {
  const told = new Set(figuresOfItem(item).map(({ at }) => at));
  const names = /\/(?:id|name|written|edition|dated|label|nominalIn|schedule|parameter|points\/\d+\/0)$/;
  const walk = (value: unknown, at: string): string[] => {
    if (isNumber(value)) return told.has(at) || names.test(at) ? [] : [at];
    if (typeof value !== 'object' || value === null) return [];
    return Object.entries(value).flatMap(([key, inner]) => walk(inner, `${at}/${key}`));
  };
  return walk(item.content, '');
}
