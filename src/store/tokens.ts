import { createHash, randomBytes } from 'node:crypto';
import type pg from 'pg';
import type { Role } from '../protocol/kind.ts';

/** A token as it is stored: everything but the secret. */
export interface TokenRow {
  readonly firm: string;
  readonly id: string;
  readonly role: Role;
  readonly device: string | null;
  /** Of a token of a laboratory; null for every other role. */
  readonly laboratory: string | null;
  readonly person: string | null;
  readonly revokedAt: string | null;
  readonly expiresAt: string | null;
}

/** So that scanners of leaked secrets can tell what they have found. */
const PREFIX = 'wrt_';

export function newSecret(): string {
  return PREFIX + randomBytes(32).toString('base64url');
}

/** The secret has 256 random bits: a plain hash is as good as a slow one, and cheap enough for every request. */
export function secretHash(secret: string): Buffer {
  return createHash('sha256').update(secret).digest();
}

const FIND = `select t.firm, t.id, t.role, t.device, t.laboratory, t.revoked_at as "revokedAt", t.expires_at as "expiresAt"
from token t where t.hash = decode($1, 'hex')`;

const PERSON = `select person from device where firm = $1 and id = $2`;

/** Looks a token up by its hash, before its firm is known: the database shows that one row to whoever has the secret. */
export async function findToken(pool: pg.Pool, secret: string): Promise<TokenRow | null> {
  const hash = secretHash(secret).toString('hex');
  const client = await pool.connect();
  try {
    await client.query(`begin read only; select set_config('wellround.token', '${hash}', true);`);
    const { rows } = await client.query<Omit<TokenRow, 'person'>>({ name: 'find-token', text: FIND, values: [hash] });
    const [row] = rows;
    const person = row ? await personAt(client, row.firm, row.device) : null;
    await client.query('commit');
    return row ? { ...row, person } : null;
  } catch (error) {
    await client.query('rollback').catch(() => undefined);
    throw error;
  } finally {
    client.release();
  }
}

async function personAt(client: pg.PoolClient, firm: string, device: string | null): Promise<string | null> {
  if (device === null) return null;
  await client.query({ text: `select set_config('wellround.firm', $1, true)`, values: [firm] });
  const { rows } = await client.query<{ person: string | null }>({
    name: 'person-at',
    text: PERSON,
    values: [firm, device],
  });
  return rows[0]?.person ?? null;
}
