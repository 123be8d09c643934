/** The column types in use. `measure` is a numeric that the database keeps finite. */
export type ColumnType =
  | 'uuid'
  | 'text'
  | 'boolean'
  | 'date'
  | 'timestamptz'
  | 'measure'
  | 'integer'
  | 'text[]'
  | 'jsonb';

/** The typed table of a kind: field -> column type, in the order of its columns. */
export interface TypedTable {
  readonly table: string;
  readonly fields: Readonly<Record<string, ColumnType>>;
  /** Observations also carry observed_at, entered_at, captured, read_by and written_by. */
  readonly observed?: true;
}

export function table(name: string, fields: Readonly<Record<string, ColumnType>>): TypedTable {
  return { table: name, fields };
}

export function observed(name: string, fields: Readonly<Record<string, ColumnType>>): TypedTable {
  return { table: name, fields, observed: true };
}
