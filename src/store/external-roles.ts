import type { ClientBase } from 'pg';
import { APP_ROLE, OWNER_ROLE } from './role-names.ts';

/** PostgreSQL 15 is the oldest that is tried. */
const OLDEST_VERSION = 150_000;
/** Two processes that start on one new database take turns (advisory locks are the database's own). */
const ROLE_LOCK = 7_701_924;

interface Self {
  name: string;
  database: string;
  version: number;
  encoding: string;
}

async function whoAmI(client: ClientBase): Promise<Self> {
  const result = await client.query<Self>(`
    select current_user as name, current_database() as database, current_setting('server_encoding') as encoding,
      current_setting('server_version_num')::int as version`);
  const self = result.rows[0];
  if (self === undefined) throw new Error('PostgreSQL did not say which account is connected.');
  if (self.version < OLDEST_VERSION) {
    const major = Math.floor(self.version / 10_000);
    throw new Error(`PostgreSQL 15 or newer is needed; the server of DATABASE_URL is version ${major}. Upgrade it.`);
  }
  if (self.encoding !== 'UTF8') {
    throw new Error(
      `The database "${self.database}" must be in UTF8, and it is in ${self.encoding}. ` +
        'Create one with "create database ... encoding utf8 template template0" and name it in DATABASE_URL.',
    );
  }
  return self;
}

async function truth(client: ClientBase, question: string, values: unknown[]): Promise<boolean> {
  const result = await client.query<{ answer: boolean | null }>(`select (${question}) as answer`, values);
  return result.rows[0]?.answer === true;
}

async function missingForRole(client: ClientBase, self: Self, role: string, switches: boolean): Promise<string[]> {
  const exists = await truth(client, 'exists (select from pg_roles where rolname = $1)', [role]);
  const create = exists ? [] : [`create role ${role} nosuperuser nobypassrls nocreatedb nocreaterole`];
  if (!switches || self.name === role) return create;
  // since PostgreSQL 16 a member may be barred from switching to the role, which "set" asks about
  const right = self.version >= 160_000 ? 'set' : 'member';
  const may = exists && (await truth(client, `pg_has_role(current_user, $1, '${right}')`, [role]));
  return may ? create : [...create, `grant ${role} to ${client.escapeIdentifier(self.name)}`];
}

async function missingForOwner(client: ClientBase, self: Self): Promise<string[]> {
  const exists = await truth(client, 'exists (select from pg_roles where rolname = $1)', [OWNER_ROLE]);
  const rights = `has_database_privilege($1, current_database(), 'create') and has_schema_privilege($1, 'public', 'create')`;
  if (exists && (await truth(client, rights, [OWNER_ROLE]))) return [];
  const database = client.escapeIdentifier(self.database);
  return [
    `grant create, connect, temporary on database ${database} to ${OWNER_ROLE}`,
    `grant all on schema public to ${OWNER_ROLE}`,
  ];
}

async function missing(client: ClientBase, self: Self, poolSwitches: boolean): Promise<string[]> {
  return [
    ...(await missingForRole(client, self, OWNER_ROLE, true)),
    ...(await missingForRole(client, self, APP_ROLE, poolSwitches)),
    ...(await missingForOwner(client, self)),
  ];
}

async function runAll(client: ClientBase, self: Self, poolSwitches: boolean): Promise<void> {
  await client.query('select pg_advisory_xact_lock($1)', [ROLE_LOCK]);
  for (const statement of await missing(client, self, poolSwitches)) await client.query(statement);
  // granting what one may not grant is only a warning to PostgreSQL
  const left = await missing(client, self, poolSwitches);
  if (left.length > 0) throw new Error(`without effect: ${left.join('; ')}`);
}

/**
 * The owner and the application's role on a server of one's own. Everything is owned by the owner role, whichever
 * account migrates, so that the account in DATABASE_URL can be exchanged later.
 */
export async function prepareExternalRoles(client: ClientBase, poolSwitches: boolean): Promise<void> {
  const self = await whoAmI(client);
  const statements = await missing(client, self, poolSwitches);
  if (statements.length === 0) return;
  await client.query('begin');
  try {
    await runAll(client, self, poolSwitches);
    await client.query('commit');
  } catch (error) {
    await client.query('rollback').catch(() => undefined);
    throw new Error(
      `The account "${self.name}" of DATABASE_URL may not prepare the two roles that this program needs ` +
        `(${(error as Error).message}). Run this once in the database "${self.database}" as an administrator, ` +
        `then start again:\n${statements.map((statement) => `${statement};`).join('\n')}`,
      { cause: error },
    );
  }
}
