import type { ClientBase } from 'pg';
import { APP_ROLE, OWNER_ROLE } from '../role-names.ts';

async function ensureLogin(client: ClientBase, name: string): Promise<void> {
  const found = await client.query('select 1 from pg_roles where rolname = $1', [name]);
  if (found.rowCount === 0) await client.query(`create role ${name}`);
  await client.query(`alter role ${name} login nosuperuser nobypassrls nocreatedb nocreaterole noreplication`);
}

/** The two accounts of the design: one that owns and migrates, one that the application runs as and cannot escape. */
export async function prepareEmbeddedRoles(superuser: ClientBase): Promise<void> {
  await ensureLogin(superuser, OWNER_ROLE);
  await ensureLogin(superuser, APP_ROLE);
  await superuser.query(`alter role ${APP_ROLE} set statement_timeout = '15s'`);
}

/** Database names are our own constants and test names; quoting keeps them so. */
export async function ensureDatabase(superuser: ClientBase, name: string): Promise<void> {
  const found = await superuser.query('select 1 from pg_database where datname = $1', [name]);
  if (found.rowCount === 0)
    await superuser.query(`create database ${superuser.escapeIdentifier(name)} owner ${OWNER_ROLE}`);
}
