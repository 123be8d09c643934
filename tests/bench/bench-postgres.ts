import { chmod, mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { startEmbedded } from '../../src/store/embedded/supervisor.ts';
import { migrate } from '../../src/store/migrations.ts';
import { makePool } from '../../src/store/pool.ts';
import { APP_ROLE, OWNER_ROLE } from '../../src/store/role-names.ts';
import { storeTypes } from '../../src/store/type-parsers.ts';
import { testLog } from '../support/test-log.ts';
import type { Cleanup } from './cleanup.ts';

const MIGRATIONS = path.join(import.meta.dirname, '../../prisma/migrations');

/**
 * The only settings that are not the server's own: the connections of both sides stay open while either is measured, and
 * what is told live is told from the time of its commit.
 */
const FOR_THE_RUN = { max_connections: '100', track_commit_timestamp: 'on' };

/** One database of the run. */
export interface BenchDatabase {
  readonly name: string;
  /** As the application connects: row-level security applies. */
  readonly pool: pg.Pool;
  /** Addresses for a process of its own. */
  readonly ownerUrl: string;
  readonly appUrl: string;
  /** A new connection of the owner; whoever asks for it ends it. */
  owner(): Promise<pg.Client>;
}

/** A real PostgreSQL with its ordinary settings, fsync on, in a folder that goes when the run ends. */
export interface BenchPostgres {
  readonly version: string;
  readonly pid: number;
  create(name: string, migrated: boolean): Promise<BenchDatabase>;
  /** Writes out what an earlier measurement left behind, so that the next one does not pay for it. */
  calm(): Promise<void>;
  query(text: string, database?: string): Promise<Record<string, unknown>[]>;
}

/** pg reads a socket's folder from the address's query. */
function addressOf(config: pg.ClientConfig): string {
  const query = new URLSearchParams({ host: String(config.host), port: String(config.port) });
  return `postgresql://${config.user}@localhost/${config.database}?${query}`;
}

async function connected(config: pg.ClientConfig): Promise<pg.Client> {
  const client = new pg.Client({ ...config, types: storeTypes });
  client.on('error', () => undefined);
  await client.connect();
  return client;
}

async function ask(config: pg.ClientConfig, text: string): Promise<Record<string, unknown>[]> {
  const client = await connected(config);
  return client
    .query<Record<string, unknown>>(text)
    .then(({ rows }) => rows)
    .finally(() => client.end());
}

async function temporaryFolder(cleanup: Cleanup): Promise<string> {
  const folder = await mkdtemp(path.join(os.tmpdir(), 'wellround-bench-'));
  cleanup.add(() => rm(folder, { recursive: true, force: true }));
  // The server may run as another account, which has to reach its own folder inside this one.
  await chmod(folder, 0o711);
  return path.join(folder, 'data');
}

export async function startPostgres(cleanup: Cleanup): Promise<BenchPostgres> {
  const dataDir = await temporaryFolder(cleanup);
  const server = await startEmbedded({ dataDir, log: testLog, settings: FOR_THE_RUN });
  cleanup.add(() => server.stop());
  const admin = (database: string) => server.connection('superuser', database);
  const [row] = await ask(admin('postgres'), "select current_setting('server_version') as version");
  return {
    version: String(row?.version),
    pid: server.pid(),
    query: (text, database = 'postgres') => ask(admin(database), text),
    calm: async () => void (await ask(admin('postgres'), 'checkpoint')),
    async create(name, migrated) {
      await ask(admin('postgres'), `create database ${name} owner ${OWNER_ROLE}`);
      const config = (user: string): pg.ClientConfig => ({ ...admin(name), user });
      const owner = () => connected(config(OWNER_ROLE));
      if (migrated) {
        const client = await owner();
        await migrate(client, MIGRATIONS).finally(() => client.end());
      }
      const pool = makePool(config(APP_ROLE), testLog, 4);
      cleanup.add(() => pool.end());
      return { name, pool, ownerUrl: addressOf(config(OWNER_ROLE)), appUrl: addressOf(config(APP_ROLE)), owner };
    },
  };
}
