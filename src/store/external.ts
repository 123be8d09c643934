import pg from 'pg';
import { asRole, shownAddress } from './address.ts';
import { prepareExternalRoles } from './external-roles.ts';
import { APP_ROLE, OWNER_ROLE } from './role-names.ts';

export interface ExternalUrls {
  databaseUrl: string;
  appDatabaseUrl: string | undefined;
}

const CONNECT_PATIENCE_MS = 10_000;

async function connect(config: pg.ClientConfig, what: string, address: string): Promise<pg.Client> {
  const client = new pg.Client({ connectionTimeoutMillis: CONNECT_PATIENCE_MS, ...config });
  client.on('error', () => undefined);
  try {
    await client.connect();
    return client;
  } catch (error) {
    const { message, code } = error as NodeJS.ErrnoException;
    throw new Error(
      `${what}: ${message || code}. Given: ${shownAddress(address)}. Check that the server runs, the address, the account ` +
        'and its password, and that a pooler in between lets the parameter "options" through.',
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
      `"${rights?.name ?? 'nobody known'}" (superuser: ${rights?.superuser}, bypassrls: ${rights?.bypass}). ` +
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
  await prepareExternalRoles(first, urls.appDatabaseUrl === undefined).finally(() => first.end());
  const appConfig = asRole(appUrl, APP_ROLE);
  await checkAppRights(appConfig, appUrl);
  return { ownerConfig: asRole(databaseUrl, OWNER_ROLE), appConfig };
}
