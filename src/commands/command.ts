import type { Logger } from 'pino';
import type { Config } from '../config.ts';
import { openStore, type Store } from '../start.ts';
import { type ListedFirm, listFirms } from '../store/read/firm-list.ts';

/** A command that cannot be run as it was given. */
export class UsageError extends Error {}

/** What a command was given. */
export interface Given {
  readonly config: Config;
  readonly logger: Logger;
  readonly options: { readonly firm?: string | undefined };
  /** What stands after the name of the command. */
  readonly rest: readonly string[];
  readonly now: () => Date;
}

export type Command = (given: Given) => Promise<void>;

/** Runs with the database brought up to date. */
export async function withStore(given: Given, work: (store: Store) => Promise<void>): Promise<void> {
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

export async function allFirms({ database }: Pick<Store, 'database'>): Promise<ListedFirm[]> {
  const owner = await database.owner();
  return listFirms(owner).finally(() => owner.end());
}

export function called({ id, name }: ListedFirm): string {
  return `firm ${id} ${JSON.stringify(name)}`;
}

export function counted(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}
