import { createHash, randomBytes } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import pg from 'pg';
import { migrate } from '../../src/store/migrations.ts';
import { APP_ROLE, OWNER_ROLE } from '../../src/store/role-names.ts';
import { storeTypes } from '../../src/store/type-parsers.ts';
import type { TestServer } from './test-server.ts';

/** Sees the rows of every firm: for tests that compare what is there with what row-level security shows. */
export const BYPASS_ROLE = 'wellround_test_bypass';

/** Databases of one run share this beginning, so that the run can find and drop its own. */
export const runPrefix = `wellround_test_${randomBytes(4).toString('hex')}`;

export async function withAdmin<T>(config: pg.ClientConfig, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ ...config, types: storeTypes });
  await client.connect();
  return work(client).finally(() => client.end());
}

/** The same server and account, another database and, where asked, another role. */
export function inDatabase(admin: pg.ClientConfig, database: string, role?: string): pg.ClientConfig {
  const options = role === undefined ? {} : { options: `-c role=${role}` };
  if (admin.connectionString === undefined) return { ...admin, database, ...options };
  const url = new URL(admin.connectionString);
  url.pathname = `/${database}`;
  return { ...admin, connectionString: url.href, ...options };
}

async function makeRole(client: pg.Client, role: string, attributes: string): Promise<void> {
  const found = await client.query('select 1 from pg_roles where rolname = $1', [role]);
  if (found.rowCount === 0) await client.query(`create role ${role}`);
  await client.query(`alter role ${role} login ${attributes}`);
  await client.query(`grant ${role} to current_user`);
}

export async function makeRoles(client: pg.Client): Promise<void> {
  await makeRole(client, OWNER_ROLE, 'nosuperuser nobypassrls');
  await makeRole(client, APP_ROLE, 'nosuperuser nobypassrls');
  await makeRole(client, BYPASS_ROLE, 'nosuperuser bypassrls');
  // pg_read_all_data and pg_write_all_data: every table, whatever a migration grants
  await client.query(`grant pg_read_all_data, pg_write_all_data to ${BYPASS_ROLE}`);
}

async function fingerprint(directory: string): Promise<string> {
  const hash = createHash('sha256');
  const names = (await readdir(directory, { recursive: true })).filter((name) => name.endsWith('.sql')).sort();
  for (const name of names) hash.update(name).update(await readFile(path.join(directory, name)));
  return hash.digest('hex').slice(0, 12);
}

/** A migrated database to clone, made once for each content of the migrations folder. */
export async function makeTemplate(server: TestServer, directory: string): Promise<string> {
  const name = `${runPrefix}_template_${await fingerprint(directory)}`;
  await withAdmin(server.admin, async (client) => {
    const found = await client.query('select 1 from pg_database where datname = $1', [name]);
    if (found.rowCount !== 0) return;
    const unfinished = `${name}_new`;
    await client.query(`drop database if exists ${unfinished} with (force)`);
    await client.query(`create database ${unfinished} owner ${OWNER_ROLE}`);
    await withAdmin(inDatabase(server.admin, unfinished, OWNER_ROLE), (owner) => migrate(owner, directory));
    await client.query(`alter database ${unfinished} rename to ${name}`);
  });
  return name;
}

export async function dropRunDatabases(server: TestServer): Promise<void> {
  await withAdmin(server.admin, async (client) => {
    const found = await client.query<{ name: string }>(
      `select datname as name from pg_database where starts_with(datname, $1)`,
      [runPrefix],
    );
    for (const { name } of found.rows) await client.query(`drop database if exists ${name} with (force)`);
  });
}
