import { z } from 'zod';
import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { columnName, TYPED_TABLES } from '../tables.ts';
import type { TypedTable } from '../typed-table.ts';

/** What a list of records is sorted by, before their ids. */
export interface RecordOrder {
  readonly column: string;
  readonly type: 'uuid' | 'text' | 'date' | 'timestamptz';
  /** Some records of the kind may have none: they come last, by their ids. */
  readonly maybeMissing?: true;
}

/** In the order in which their ids were made. */
export const BY_ID: RecordOrder = { column: 'id', type: 'uuid' };

/** The fields by which a person looks for a record of the kind; observations go by when they were made. */
const NATURAL: Readonly<Record<string, string>> = {
  event: 'starts',
  visit: 'arrived',
  purge: 'began',
  sample: 'collected',
  blank: 'collected',
  'planned-sample': 'number',
  cooler: 'number',
  discrepancy: 'type',
  'measuring-point': 'validFrom',
};

const NAMES = ['name', 'label'];

export function typedTable(kind: string): TypedTable {
  const table = TYPED_TABLES[kind];
  if (!table) throw new Error(`the kind ${kind} has no typed table`);
  return table;
}

function mayBeMissing(kind: string, field: string): boolean {
  const schema = kindNamed(kind)?.fields.shape[field];
  return schema instanceof z.ZodType && schema.safeParse(undefined).success;
}

/** How the records of a kind are listed under another record. */
export function naturalOrder(kind: string): RecordOrder {
  const { fields, observed } = typedTable(kind);
  if (observed) return { column: 'observed_at', type: 'timestamptz' };
  const field = NATURAL[kind] ?? NAMES.find((name) => name in fields);
  const type = field === undefined ? undefined : fields[field];
  if (field === undefined || (type !== 'text' && type !== 'date' && type !== 'timestamptz')) return BY_ID;
  return { column: columnName(field), type, ...(mayBeMissing(kind, field) ? { maybeMissing: true } : {}) };
}

/** How all records of a kind are listed: what is observed by the thousand goes by id, which has an index. */
export function listOrder(kind: string): RecordOrder {
  return typedTable(kind).observed ? BY_ID : naturalOrder(kind);
}
