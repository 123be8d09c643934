/** One thing that the catalog holds: a criteria set, a buffer, a rule, with where it comes from. */
export interface CatalogItem {
  /** Unique within its section. */
  readonly id: string;
  readonly name: string;
  /** Null only for what is a name of our own and no figure. */
  readonly source: string | null;
  readonly edition: string | null;
  /** Date of the edition, as exactly as it is known. */
  readonly dated: string | null;
  /** The data themselves, in their own form, as the phone and the server count with them. */
  readonly content: object;
}

/** What belongs together in the catalog, under a name that an address can have. */
export interface CatalogSection {
  readonly name: string;
  readonly title: string;
  readonly description: string;
  readonly items: readonly CatalogItem[];
}

/** What data say of themselves where they do. */
interface Described {
  readonly id?: string;
  readonly name?: string;
  readonly source?: string;
  readonly edition?: string;
  readonly dated?: string;
}

/** An item that describes itself, with what it leaves to say. */
export function catalogItem(content: object, said: Partial<Omit<CatalogItem, 'content'>> = {}): CatalogItem {
  const { id, name, source, edition, dated } = content as Described;
  const named = said.name ?? name ?? said.id ?? id;
  if (named === undefined) throw new Error('an item of the catalog has neither name nor id');
  return {
    id: said.id ?? id ?? named,
    name: named,
    source: said.source ?? source ?? null,
    edition: said.edition ?? edition ?? null,
    dated: said.dated ?? dated ?? null,
    content,
  };
}
