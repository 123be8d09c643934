import type { RecordState } from '../../protocol/record.ts';
import { columnName, TYPED_TABLES } from '../tables.ts';
import type { ColumnType, TypedTable } from '../typed-table.ts';
import { booleanArray, integerArray, textArray, uuidArray } from './array-parameter.ts';
import type { WriteTx } from './transaction.ts';

/** The state of a record for its typed table; a withdrawn derived record counts as void there. */
export interface TypedRow {
  readonly state: RecordState;
  readonly withdrawn: boolean;
}

type Cell = string | number | boolean | null;

interface Column {
  readonly name: string;
  readonly type: ColumnType;
  readonly cell: (row: TypedRow) => Cell;
}

/** How the cells of a column travel. Arrays and objects go as text, since unnest would flatten an array of arrays. */
function travelling(type: ColumnType): 'uuid' | 'integer' | 'boolean' | 'text' {
  return type === 'uuid' || type === 'integer' || type === 'boolean' ? type : 'text';
}

function parameter(type: ColumnType, cells: readonly Cell[]): unknown {
  switch (travelling(type)) {
    case 'uuid':
      return uuidArray(cells as (string | null)[]);
    case 'integer':
      return integerArray(cells as (number | null)[]);
    case 'boolean':
      return booleanArray(cells as (boolean | null)[]);
    case 'text':
      return textArray(cells.map((cell) => (cell === null ? null : String(cell))));
  }
}

/** An array literal of PostgreSQL escapes quotes and backslashes, and nothing else as JSON does. */
function quoted(item: string): string {
  return `"${item.replaceAll(/["\\]/g, '\\$&')}"`;
}

/** Arrays and objects as the text of a value of their type. */
function cellOf(value: unknown, type: ColumnType): Cell {
  if (value === undefined || value === null) return null;
  if (type === 'jsonb') return JSON.stringify(value);
  if (type === 'text[]') return `{${(value as string[]).map(quoted).join(',')}}`;
  return value as Cell;
}

const COMMON: readonly Column[] = [
  { name: 'id', type: 'uuid', cell: (row) => row.state.id },
  { name: 'rev', type: 'integer', cell: (row) => row.state.rev },
  { name: 'voided', type: 'boolean', cell: (row) => row.withdrawn || row.state.voided !== null },
  { name: 'by', type: 'uuid', cell: (row) => row.state.by },
];

const OBSERVED: readonly [string, string, ColumnType][] = [
  ['observed_at', 'at', 'timestamptz'],
  ['entered_at', 'entered', 'timestamptz'],
  ['captured', 'captured', 'text'],
  ['read_by', 'readBy', 'uuid'],
  ['written_by', 'writtenBy', 'uuid'],
];

function columnsOf(table: TypedTable): Column[] {
  const fields = Object.entries(table.fields).map(([field, type]): Column => {
    return { name: columnName(field), type, cell: (row) => cellOf(row.state.fields[field], type) };
  });
  const observed = OBSERVED.map(([name, part, type]): Column => {
    const seen = (row: TypedRow) => row.state.fields.observed as Readonly<Record<string, unknown>> | undefined;
    return { name, type, cell: (row) => cellOf(seen(row)?.[part], type) };
  });
  return [...COMMON, ...fields, ...(table.observed ? observed : [])];
}

interface Upsert {
  readonly columns: readonly Column[];
  readonly text: string;
  /** The same, but a row that says all of it already is left as it is. */
  readonly whereOther: string;
}

function upsertOf(table: TypedTable): Upsert {
  const columns = columnsOf(table);
  const names = columns.map((column) => `"${column.name}"`);
  const values = columns.map((column, index) => `r.c${index}::${column.type}`);
  const arrays = columns.map((column, index) => `$${index + 2}::${travelling(column.type)}[]`);
  const updates = names.slice(1).map((name) => `${name} = excluded.${name}`);
  const text = `insert into "${table.table}" as t (firm, ${names.join(', ')})
select $1::uuid, ${values.join(', ')} from unnest(${arrays.join(', ')}) as r(${columns.map((_, i) => `c${i}`).join(', ')})
on conflict (firm, id) do update set ${updates.join(', ')}`;
  const row = (of: string) => `(${names.map((name) => `${of}.${name}`).join(', ')})`;
  return { columns, text, whereOther: `${text} where ${row('t')} is distinct from ${row('excluded')}` };
}

const UPSERTS = new Map(Object.entries(TYPED_TABLES).map(([kind, table]) => [kind, upsertOf(table)]));

function upsertFor(kind: string): Upsert {
  const upsert = UPSERTS.get(kind);
  if (upsert) return upsert;
  throw new Error(`the kind ${kind} has no typed table: add it to tables.ts and to a migration`);
}

function valuesOf(tx: WriteTx, { columns }: Upsert, rows: readonly TypedRow[]): unknown[] {
  return [tx.firm, ...columns.map((column) => parameter(column.type, rows.map(column.cell)))];
}

/** Writes the records of one kind, each id once. */
export async function upsertTyped(tx: WriteTx, kind: string, rows: readonly TypedRow[]): Promise<void> {
  const upsert = upsertFor(kind);
  await tx.client.query({ name: `typed-${kind}`, text: upsert.text, values: valuesOf(tx, upsert, rows) });
}

/** Writes those of the records whose row says something else. @returns how many */
export async function retypeRows(tx: WriteTx, kind: string, rows: readonly TypedRow[]): Promise<number> {
  const upsert = upsertFor(kind);
  const values = valuesOf(tx, upsert, rows);
  const { rowCount } = await tx.client.query({ name: `retype-${kind}`, text: upsert.whereOther, values });
  return rowCount ?? 0;
}
