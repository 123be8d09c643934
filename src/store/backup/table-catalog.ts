import type { ClientBase } from 'pg';

/** A table as the database describes it. */
export interface CatalogTable {
  readonly name: string;
  readonly columns: readonly string[];
  /** Whether its rows belong to firms. */
  readonly ofFirm: boolean;
  readonly secured: boolean;
}

const TABLES = `select c.relname as name, c.relforcerowsecurity or c.relrowsecurity as secured,
  array_agg(a.attname::text order by a.attnum) as columns, bool_or(a.attname = 'firm') as "ofFirm"
from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped
where c.relnamespace = current_schema()::regnamespace and c.relkind = 'r' and c.relname <> '_prisma_migrations'
group by c.oid order by c.relname`;

const REFERENCES = `select distinct c.relname as "from", r.relname as "to"
from pg_constraint k join pg_class c on c.oid = k.conrelid join pg_class r on r.oid = k.confrelid
where k.contype = 'f' and c.relnamespace = current_schema()::regnamespace and c.oid <> r.oid`;

interface Reference {
  readonly from: string;
  readonly to: string;
}

function inOrder(tables: readonly CatalogTable[], references: readonly Reference[]): CatalogTable[] {
  const ordered: CatalogTable[] = [];
  const left = new Map(tables.map((table) => [table.name, table]));
  while (left.size > 0) {
    const free = [...left.values()].filter(
      ({ name }) => !references.some(({ from, to }) => from === name && left.has(to)),
    );
    if (free.length === 0) {
      throw new Error(
        `The tables ${[...left.keys()].join(', ')} refer to each other in a circle: none can be filled first.`,
      );
    }
    for (const table of free) {
      ordered.push(table);
      left.delete(table.name);
    }
  }
  return ordered;
}

/** Every table of the program, each after those that it refers to. */
export async function tableCatalog(owner: ClientBase): Promise<CatalogTable[]> {
  const { rows: tables } = await owner.query<CatalogTable>(TABLES);
  const { rows: references } = await owner.query<Reference>(REFERENCES);
  const hidden = tables.filter(({ ofFirm, secured }) => secured && !ofFirm).map(({ name }) => name);
  if (hidden.length > 0)
    throw new Error(`The rows of ${hidden.join(', ')} belong to no firm and are hidden all the same.`);
  return inOrder(tables, references);
}
