import type { Tables } from './tables.ts';

/** What a prepared statement does to the tables; the first value is always the firm. */
export type Statement = (tables: Tables, values: readonly unknown[], text: string) => readonly object[];

export type Statements = Readonly<Record<string, Statement>>;
