import path from 'node:path';
import type { Logger } from 'pino';
import type { Config } from '../config.ts';
import { eachFirm, saidOf } from '../each-firm.ts';
import { openStore, type Store } from '../start.ts';
import { holdsDatabase } from '../store/embedded/data-folder.ts';
import type { ListedFirm } from '../store/read/firm-list.ts';

/** A command that cannot be run as it was given. */
export class UsageError extends Error {}

/** What a command was given. */
export interface Given {
  readonly config: Config;
  readonly logger: Logger;
  readonly options: { readonly firm?: string | undefined; readonly again?: boolean | undefined };
  /** What stands after the name of the command. */
  readonly rest: readonly string[];
  readonly now: () => Date;
}

export type Command = (given: Given) => Promise<void>;

/** @throws where DATA_DIR holds no database: a folder that was misspelt is no reason to make a new one */
export async function mustBeThere({ config }: Given): Promise<void> {
  const folder = path.resolve(config.DATA_DIR);
  if (config.DATABASE_URL !== undefined || (await holdsDatabase(folder))) return;
  throw new Error(
    `There is no database in ${folder}, and none was made. Name the folder of the server in DATA_DIR, or its database in ` +
      'DATABASE_URL; init, migrate, restore and the server itself make one where there is none.',
  );
}

/** Runs with the database brought up to date. */
export async function withStore(given: Given, work: (store: Store) => Promise<void>): Promise<void> {
  await mustBeThere(given);
  await withNewStore(given, work);
}

/** Runs with the database brought up to date, which is made where there is none. */
export async function withNewStore(given: Given, work: (store: Store) => Promise<void>): Promise<void> {
  const store = await openStore(given.config, given.logger, given.now);
  try {
    await work(store);
  } finally {
    await store.close();
  }
}

/** The one file that a command is about. */
export function fileOf({ rest }: Given, name: string): string {
  const [file, ...more] = rest;
  if (!file || more.length > 0) throw new UsageError(`${name} needs the name of one FILE`);
  return file;
}

export function say(...lines: readonly string[]): void {
  for (const line of lines) process.stdout.write(`${line}\n`);
}

/**
 * Goes through all firms. A fault in one is said, does not keep the others from their turn, and makes the command fail.
 *
 * @returns the last line of what the command says: how many firms there were, and how many could not be gone through
 */
export async function throughFirms(
  { database }: Pick<Store, 'database'>,
  step: (firm: ListedFirm) => Promise<void>,
): Promise<string> {
  const { firms, failed } = await eachFirm(database, {
    step,
    failed: (firm, error) => process.stderr.write(`${called(firm)}: failed: ${saidOf(error)}\n`),
  });
  if (failed === 0) return counted(firms, 'firm');
  process.exitCode = 1;
  return `${counted(firms, 'firm')}, ${failed} of them not gone through to the end`;
}

export function called({ id, name }: ListedFirm): string {
  return `firm ${id} ${JSON.stringify(name)}`;
}

export function counted(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}
