import { randomBytes } from 'node:crypto';
import { request } from 'node:http';
import path from 'node:path';
import pg from 'pg';
import { inject } from 'vitest';
import type { StoreLog } from '../../src/store/log.ts';
import { makePool } from '../../src/store/pool.ts';
import { APP_ROLE, OWNER_ROLE } from '../../src/store/role-names.ts';
import { storeTypes } from '../../src/store/type-parsers.ts';
import type { TemplateAnswer } from './global-setup.ts';
import { BYPASS_ROLE, inDatabase, withAdmin } from './template.ts';
import { testLog } from './test-log.ts';

export interface TestDatabase {
  name: string;
  /** as the application connects: row-level security applies */
  pool: pg.Pool;
  /** sees and writes the rows of every firm */
  bypass: pg.Pool;
  /** a new connection that may change the schema; drop() ends it if the test does not */
  owner(): Promise<pg.Client>;
  /** how to connect as the application, for what opens its own connections */
  config: pg.PoolConfig;
  /** addresses for what takes addresses, such as a server under test */
  databaseUrl: string;
  appDatabaseUrl: string | undefined;
  /** a second database that stands where this one stands now; connections that are open here break */
  copy(): Promise<TestDatabase>;
  drop(): Promise<void>;
}

export interface TestDatabaseOptions {
  /** a folder of migrations other than the project's own */
  migrations?: string;
  poolSize?: number;
}

export const ownMigrations = path.join(import.meta.dirname, '../../prisma/migrations');

export function askForTemplate(directory: string): Promise<TemplateAnswer> {
  return new Promise((resolve, reject) => {
    const asked = request({ socketPath: inject('testServerDoor'), method: 'POST' }, (response) => {
      let text = '';
      response.on('data', (chunk) => (text += String(chunk)));
      response.on('end', () => (response.statusCode === 200 ? resolve(JSON.parse(text)) : reject(new Error(text))));
    });
    asked.on('error', reject);
    asked.end(directory);
  });
}

function asRole(answer: TemplateAnswer, database: string, role: string): pg.ClientConfig {
  if (!answer.direct) return inDatabase(answer.admin, database, role);
  return { ...answer.admin, database, user: role };
}

/** pg reads a socket's folder from the address's query. */
function addressOf(config: pg.ClientConfig): string {
  if (config.connectionString !== undefined) return config.connectionString;
  const query = new URLSearchParams({ host: String(config.host), port: String(config.port) });
  return `postgresql://${config.user}@localhost/${config.database}?${query}`;
}

function ownerMaker(config: pg.ClientConfig) {
  const open: pg.Client[] = [];
  return {
    async owner(): Promise<pg.Client> {
      const client = new pg.Client({ ...config, types: storeTypes });
      client.on('error', () => undefined);
      await client.connect();
      open.push(client);
      return client;
    },
    endAll: () => Promise.all(open.map((client) => client.end())),
  };
}

async function cloneOf(answer: TemplateAnswer, template: string): Promise<string> {
  const name = `${answer.template.split('_template_')[0]}_${randomBytes(6).toString('hex')}`;
  await withAdmin(answer.admin, async (client) => {
    const others =
      'select pg_terminate_backend(pid) from pg_stat_activity where datname = $1 and pid <> pg_backend_pid()';
    if (template !== answer.template) await client.query(others, [template]);
    await client.query(`create database ${name} template ${template} owner ${OWNER_ROLE}`);
  });
  return name;
}

function opened(answer: TemplateAnswer, name: string, poolSize?: number, log: StoreLog = testLog): TestDatabase {
  const config = asRole(answer, name, APP_ROLE);
  const ownerConfig = asRole(answer, name, OWNER_ROLE);
  const pool = makePool(config, log, poolSize);
  const bypass = makePool(asRole(answer, name, BYPASS_ROLE), log, 4);
  const owners = ownerMaker(ownerConfig);
  return {
    name,
    pool,
    bypass,
    owner: owners.owner,
    config,
    databaseUrl: addressOf(ownerConfig),
    appDatabaseUrl: answer.direct ? addressOf(config) : undefined,
    copy: async () => opened(answer, await cloneOf(answer, name), poolSize, log),
    async drop() {
      await Promise.all([pool.end(), bypass.end(), owners.endAll()]);
      await withAdmin(answer.admin, (client) => client.query(`drop database if exists ${name} with (force)`));
    },
  };
}

/** A fresh database with the project's tables, on the server of this answer. */
export async function databaseFrom(
  answer: TemplateAnswer,
  poolSize?: number,
  log: StoreLog = testLog,
): Promise<TestDatabase> {
  return opened(answer, await cloneOf(answer, answer.template), poolSize, log);
}

/** A fresh database with the project's tables, cloned from a migrated one; drop it in afterAll. */
export async function testDatabase(options: TestDatabaseOptions = {}): Promise<TestDatabase> {
  return databaseFrom(await askForTemplate(options.migrations ?? ownMigrations), options.poolSize);
}
