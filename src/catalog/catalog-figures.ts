import type { CatalogItem } from './catalog-section.ts';

/** A figure of an item with where it comes from, whether it says so itself or what holds it does. */
export interface CatalogFigure {
  /** JSON Pointer into the content of the item. */
  readonly at: string;
  readonly value: string;
  /** Null would be a figure without a source, which no release holds. */
  readonly source: string | null;
  /** Read in its document, or in the copy named; null would be one that does not say. */
  readonly verified: boolean | null;
  /** How it was come by, where that is known more closely: seen, or from memory with its confidence. */
  readonly status: string | null;
}

type Known = Pick<CatalogFigure, 'source' | 'verified' | 'status'>;
type Fields = Readonly<Record<string, unknown>>;

/** What is a name or a date, however much it looks like a number. */
const NAMES = new Set(['id', 'name', 'written', 'edition', 'dated', 'label', 'nominalIn', 'schedule', 'parameter']);
/** Words that are figures: what a document says of a material or a pump. */
const JUDGEMENTS = ['suitability', 'rating'];
const NUMBER = /^-?\d+(?:\.\d+)?$/;

function saidBy(fields: Fields, outer: Known): Known {
  const { source, verified, status } = fields;
  return {
    source: typeof source === 'string' ? source : outer.source,
    verified: typeof verified === 'boolean' ? verified : outer.verified,
    status: typeof status === 'string' ? status : outer.status,
  };
}

/** A temperature and the value there: the value is the figure. */
function isPoint(list: readonly unknown[]): boolean {
  return list.length === 2 && list.every((one) => typeof one === 'string' && NUMBER.test(one));
}

function ofList(list: readonly unknown[], at: string, known: Known): CatalogFigure[] {
  if (isPoint(list)) return [{ at: `${at}/1`, value: String(list[1]), ...known }];
  return list.flatMap((item, index) => figuresAt(item, `${at}/${index}`, known));
}

function ofFields(fields: Fields, at: string, outer: Known): CatalogFigure[] {
  const known = saidBy(fields, outer);
  return Object.entries(fields).flatMap(([key, value]) => {
    if (NAMES.has(key)) return [];
    if (JUDGEMENTS.includes(key)) return [{ at: `${at}/${key}`, value: String(value), ...known }];
    return figuresAt(value, `${at}/${key}`, known);
  });
}

function figuresAt(value: unknown, at: string, known: Known): CatalogFigure[] {
  if (typeof value === 'number' || (typeof value === 'string' && NUMBER.test(value)))
    return [{ at, value: String(value), ...known }];
  if (typeof value !== 'object' || value === null || value instanceof RegExp) return [];
  return Array.isArray(value) ? ofList(value, at, known) : ofFields(value as Fields, at, known);
}

/**
 * Every figure of an item, with its source and whether it was read there. A figure that says neither has them of the
 * nearest object around it that does.
 */
export function figuresOfItem({ source, content }: CatalogItem): readonly CatalogFigure[] {
  return figuresAt(content, '', { source, verified: null, status: null });
}

/** Whether every figure of an item was read in its document; null where it is a name alone, with nothing to read. */
export function isItemVerified(item: CatalogItem): boolean | null {
  const figures = figuresOfItem(item);
  if (figures.length > 0) return figures.every(({ verified }) => verified === true);
  const { verified } = item.content as { readonly verified?: boolean };
  return verified ?? null;
}

/** The content as JSON can say it: a pattern by its text. */
export function plainContent(value: unknown): unknown {
  if (value instanceof RegExp) return value.source;
  if (Array.isArray(value)) return value.map(plainContent);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, plainContent(inner)]));
}
