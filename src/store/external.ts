import pg from 'pg';
import { APP_ROLE, OWNER_ROLE } from './role-names.ts';

export interface ExternalUrls {
  databaseUrl: string;
  appDatabaseUrl: string | undefined;
}

/** The address with this role switched on as part of the connection itself, so that nothing can run before it. */
export function asRole(address: string, role: string): pg.ClientConfig {
  const own = `-c role=${role}`;
  if (!URL.canParse(address)) return { connectionString: address, options: own };
  const url = new URL(address);
  // pg lets options in the address win over options beside it, so they are taken out and joined
  const given = url.searchParams.get('options');
  url.searchParams.delete('options');
  return { connectionString: url.href, options: given === null ? own : `${given} ${own}` };
}

/** The address without its password, for messages. */
export function shownAddress(address: string): string {
  if (!URL.canParse(address)) return 'an address that is not a URL';
  const url = new URL(address);
  return `${url.protocol}//${url.username}@${url.host}${url.pathname}`;
}

function refused(what: string, address: string, error: unknown): Error {
  return new Error(
    `${what}: ${(error as Error).message || (error as NodeJS.ErrnoException).code}. Given: ${shownAddress(address)}. ` +
      'Check that the server runs, the address, the account and its password.',
    { cause: error },
  );
}

async function connect(config: pg.ClientConfig, what: string, address: string): Promise<pg.Client> {
  const client = new pg.Client({ connectionTimeoutMillis: 10_000, ...config });
  await client.connect().catch((error) => {
    throw refused(what, address, error);
  });
  return client;
}

interface Self {
  name: string;
  database: string;
  version: number;
}

async function whoAmI(client: pg.Client): Promise<Self> {
  const result = await client.query<Self>(
    `select current_user as name, current_database() as database, current_setting('server_version_num')::int as version`,
  );
  const self = result.rows[0];
  if (self === undefined) throw new Error('PostgreSQL did not say which account is connected.');
  if (self.version >= 150_000) return self;
  throw new Error(
    `PostgreSQL 15 or newer is needed; the server at DATABASE_URL is ${Math.floor(self.version / 10_000)}.`,
  );
}

async function missingStatements(client: pg.Client, self: Self): Promise<string[]> {
  const me = client.escapeIdentifier(self.name);
  const statements: string[] = [];
  for (const role of [OWNER_ROLE, APP_ROLE]) {
    const found = await client.query('select 1 from pg_roles where rolname = $1', [role]);
    if (found.rowCount === 0) statements.push(`create role ${role} nosuperuser nobypassrls nocreatedb nocreaterole`);
    if (self.name === role) continue;
    const member =
      found.rowCount === 0 ? undefined : await client.query<{ may: boolean }>(MAY_SET_ROLE(self.version), [role]);
    if (member?.rows[0]?.may !== true) statements.push(`grant ${role} to ${me}`);
  }
  const rights = await client
    .query<{ may: boolean }>(
      `select has_database_privilege($1, current_database(), 'create') and has_schema_privilege($1, 'public', 'create') as may`,
      [OWNER_ROLE],
    )
    .catch(() => undefined);
  if (rights?.rows[0]?.may === true) return statements;
  const database = client.escapeIdentifier(self.database);
  return [
    ...statements,
    `grant create, connect, temporary on database ${database} to ${OWNER_ROLE}`,
    `grant all on schema public to ${OWNER_ROLE}`,
  ];
}

/** Since PostgreSQL 16 a member may be barred from switching to the role, which "set" asks about. */
const MAY_SET_ROLE = (version: number): string =>
  `select pg_has_role(current_user, $1, '${version >= 160_000 ? 'set' : 'member'}') as may`;

async function prepareRoles(client: pg.Client): Promise<void> {
  const self = await whoAmI(client);
  const statements = await missingStatements(client, self);
  if (statements.length === 0) return;
  try {
    await client.query('begin');
    // several processes may start on one new database at once; roles belong to the whole server
    await client.query('select pg_advisory_xact_lock(7701924)');
    for (const statement of await missingStatements(client, self)) await client.query(statement);
    await client.query('commit');
  } catch (error) {
    await client.query('rollback').catch(() => undefined);
    throw new Error(
      `The account "${self.name}" of DATABASE_URL may not prepare the two roles of this program (${(error as Error).message}). ` +
        `Run this once in the database "${self.database}" as an administrator, then start again:\n${statements.join(';\n')};`,
      { cause: error },
    );
  }
}

interface Rights {
  name: string;
  superuser: boolean;
  bypass: boolean;
}

async function checkAppRights(config: pg.ClientConfig, address: string): Promise<void> {
  const client = await connect(config, `The application could not connect as ${APP_ROLE}`, address);
  const result = await client
    .query<Rights>(
      'select rolname as name, rolsuper as superuser, rolbypassrls as bypass from pg_roles where rolname = current_user',
    )
    .finally(() => client.end());
  const rights = result.rows[0];
  if (rights?.name === APP_ROLE && !rights.superuser && !rights.bypass) return;
  throw new Error(
    `The application must run as ${APP_ROLE} without rights that step over row-level security; it would run as ` +
      `"${rights?.name}" (superuser: ${rights?.superuser}, bypassrls: ${rights?.bypass}). ` +
      `Run "alter role ${APP_ROLE} nosuperuser nobypassrls" as an administrator and start again.`,
  );
}

/** Makes sure that a server of one's own has both roles, and says how to connect as each. */
export async function openExternal(
  urls: ExternalUrls,
): Promise<{ ownerConfig: pg.ClientConfig; appConfig: pg.PoolConfig }> {
  const { databaseUrl } = urls;
  const appUrl = urls.appDatabaseUrl ?? databaseUrl;
  const first = await connect({ connectionString: databaseUrl }, 'The database could not be reached', databaseUrl);
  await prepareRoles(first).finally(() => first.end());
  const appConfig = asRole(appUrl, APP_ROLE);
  await checkAppRights(appConfig, appUrl);
  return { ownerConfig: asRole(databaseUrl, OWNER_ROLE), appConfig };
}
