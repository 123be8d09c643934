import path from 'node:path';
import type { FastifyInstance } from 'fastify';
import type { Logger } from 'pino';
import { openApp } from './app.ts';
import type { Config } from './config.ts';
import type { Context } from './context.ts';
import { listen } from './listen.ts';
import { type Database, type DatabaseOptions, openDatabase } from './store/connections.ts';
import { Doorbell } from './store/live/doorbell.ts';
import { migrate } from './store/migrations.ts';
import { newerMigrations, rememberedFor } from './store/newer-tables.ts';
import { openRecords } from './store/records.ts';
import { openLane } from './writes/lane.ts';

export const MIGRATIONS = path.join(import.meta.dirname, '../prisma/migrations');

/** How long the answer is good to whether a newer process changed the tables. */
const NEWER_LOOK_MS = 30_000;

const SET_ASIDE = 'a fault of ours: the change that meets it is set aside, and tried again every hour';

/** The database, brought up to date, with the write door on it. */
export interface Store {
  readonly ctx: Context;
  readonly database: Database;
  close(): Promise<void>;
}

async function bringUpToDate(database: Database, logger: Logger): Promise<void> {
  const owner = await database.owner();
  try {
    const { applied } = await migrate(owner, MIGRATIONS, { waiting: (why) => logger.warn(why) });
    if (applied.length > 0) logger.info({ applied }, 'the database was brought up to date');
  } finally {
    await owner.end();
  }
}

export function databaseOptions(config: Config, log: Logger): DatabaseOptions {
  const { DATABASE_URL: databaseUrl, APP_DATABASE_URL: appDatabaseUrl, DATA_DIR } = config;
  return { databaseUrl, appDatabaseUrl, dataDir: path.resolve(DATA_DIR), log };
}

/** Opens the database and applies what is missing. */
export async function openStore(config: Config, logger: Logger, now: () => Date): Promise<Store> {
  const database = await openDatabase(databaseOptions(config, logger));
  try {
    await bringUpToDate(database, logger);
  } catch (error) {
    await database.close();
    throw error;
  }
  const { pool } = database;
  const records = openRecords(pool);
  const doorbell = new Doorbell({ pool, log: logger });
  const failed = (setAside: string, error: unknown) => logger.error({ setAside, err: error }, SET_ASIDE);
  const lane = openLane({ pool, now, committed: doorbell.ring, failed });
  const newer = rememberedFor(NEWER_LOOK_MS, now, async () => {
    const owner = await database.owner();
    return newerMigrations(owner, MIGRATIONS).finally(() => owner.end());
  });
  const replicated = config.DURABLE === 'replicated';
  const ctx = { pool, records, now, lane, replicated, newerMigrations: newer };
  const close = async () => {
    await doorbell.close();
    await records.close().finally(() => database.close());
  };
  return { ctx, database, close };
}

/** A server that listens. */
export interface Served {
  readonly app: FastifyInstance;
  readonly url: string;
}

export async function serve(ctx: Context, config: Config, logger: Logger): Promise<Served> {
  const { REQUESTS_PER_MINUTE: requestsPerMinute } = config;
  const app = await openApp(ctx, logger, requestsPerMinute === undefined ? {} : { requestsPerMinute });
  try {
    return { app, url: await listen(app, config) };
  } catch (error) {
    await app.close();
    throw error;
  }
}
