import pg from 'pg';
import { withOptions } from './connection-options.ts';
import { ensureDatabase } from './embedded/embedded-roles.ts';
import { runningServer } from './embedded/join.ts';
import { type EmbeddedServer, startEmbedded } from './embedded/supervisor.ts';
import { type ExternalUrls, openExternal } from './external.ts';
import type { StoreLog } from './log.ts';
import { endPool, makePool } from './pool.ts';
import { storeTypes } from './type-parsers.ts';

export interface DatabaseOptions {
  /** a PostgreSQL server of one's own; without it an embedded one runs in the data folder */
  databaseUrl?: string | undefined;
  /** a second address for the application's own account; without it the pool gives up rights with SET ROLE */
  appDatabaseUrl?: string | undefined;
  dataDir: string;
  log: StoreLog;
  /** the embedded database's name */
  database?: string;
  /** settings of the embedded server, see EmbeddedOptions */
  settings?: Readonly<Record<string, string>>;
}

export interface Database {
  /** connections of the application: no superuser, row-level security applies */
  pool: pg.Pool;
  /** a new connection that may change the schema; whoever asks for it ends it */
  owner(): Promise<pg.Client>;
  mode: 'embedded' | 'external';
  close(): Promise<void>;
}

async function connected(config: pg.ClientConfig): Promise<pg.Client> {
  const client = new pg.Client({ ...withOptions(config), types: storeTypes });
  // a lost connection shows in the next statement; without a listener it would end the process
  client.on('error', () => undefined);
  await client.connect();
  return client;
}

async function prepareDatabase(server: EmbeddedServer, name: string): Promise<void> {
  const superuser = await connected(server.connection('superuser', 'postgres'));
  await ensureDatabase(superuser, name).finally(() => superuser.end());
}

const EMBEDDED_NAME = 'wellround';

async function openEmbedded(options: DatabaseOptions): Promise<Database> {
  const name = options.database ?? EMBEDDED_NAME;
  const server = await startEmbedded(options);
  try {
    await prepareDatabase(server, name);
    const pool = makePool(server.connection('app', name), options.log);
    return {
      pool,
      mode: 'embedded',
      owner: () => connected(server.connection('owner', name)),
      close: () => endPool(pool, options.log).finally(() => server.stop()),
    };
  } catch (error) {
    await server.stop();
    throw error;
  }
}

async function openGiven(urls: ExternalUrls, log: StoreLog): Promise<Database> {
  const { ownerConfig, appConfig } = await openExternal(urls);
  const pool = makePool(appConfig, log);
  return { pool, mode: 'external', owner: () => connected(ownerConfig), close: () => endPool(pool, log) };
}

export async function openDatabase(options: DatabaseOptions): Promise<Database> {
  const { databaseUrl, appDatabaseUrl } = options;
  if (databaseUrl !== undefined) return openGiven({ databaseUrl, appDatabaseUrl }, options.log);
  return openEmbedded(options);
}

/** Connections of the owner, and nothing else. */
export type OwnedDatabase = Pick<Database, 'owner' | 'mode' | 'close'>;

/** As openDatabase; but an embedded database that a server is running is used beside it, and left as it is. */
export async function reachDatabase(options: DatabaseOptions): Promise<OwnedDatabase> {
  const { databaseUrl, dataDir, database = EMBEDDED_NAME } = options;
  const running = databaseUrl === undefined ? await runningServer(dataDir, database) : undefined;
  if (running === undefined) return openDatabase(options);
  return { mode: 'embedded', owner: () => connected(running), close: async () => undefined };
}
