import type pg from 'pg';
import { migrationsIn } from './migrations.ts';

/** An undefined column, table or function: every statement of ours was tried with the tables that it was made for. */
const UNDEFINED = new Set(['42703', '42P01', '42883']);

/** The tables are not those that this program was made for: a newer one brought them up to date while this one ran. */
export class OtherTables extends Error {
  readonly code = 'OTHER_TABLES';
}

export function isOfOtherTables(error: unknown): boolean {
  return (
    error instanceof OtherTables || (error instanceof Error && 'code' in error && UNDEFINED.has(String(error.code)))
  );
}

/** Finished migrations that are not in the folder of this program, where the tables are its own. */
export async function newerMigrations(owner: pg.ClientBase, directory: string): Promise<string[]> {
  const known = new Set((await migrationsIn(directory)).map(({ name }) => name));
  const { rows } = await owner.query<{ name: string }>(
    `select migration_name as name from _prisma_migrations
where rolled_back_at is null and finished_at is not null order by migration_name`,
  );
  return rows.map(({ name }) => name).filter((name) => !known.has(name));
}

/** The answer of not long ago, so that a probe which anybody may send opens no connection each time. */
export function rememberedFor<Answer>(ms: number, now: () => Date, ask: () => Promise<Answer>): () => Promise<Answer> {
  let known: { readonly atMs: number; readonly answer: Promise<Answer> } | null = null;
  return () => {
    const atMs = now().getTime();
    if (known === null || atMs - known.atMs >= ms) known = { atMs, answer: ask() };
    return known.answer;
  };
}
