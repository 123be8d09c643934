import type pg from 'pg';
import type { Role } from '../../protocol/kind.ts';
import { inFirm } from './in-firm.ts';

/** For whom a code is; the code itself is not kept. */
export interface NewEnrolment {
  readonly firm: string;
  readonly id: string;
  readonly hash: Buffer;
  readonly role: Role;
  readonly label: string;
  readonly device: string | null;
  /** The record of the device is made when the code is used. */
  readonly newDevice: boolean;
  readonly crew: string | null;
  readonly person: string | null;
  readonly madeBy: string | null;
  readonly madeAt: string;
  readonly expiresAt: string;
  /** Under which the token will be known. */
  readonly token: string;
}

export async function insertEnrolment(pool: pg.Pool, row: NewEnrolment): Promise<void> {
  const { firm, id, hash, role, label, device, newDevice, crew, person, madeBy, madeAt, expiresAt, token } = row;
  await inFirm(pool, firm, (client) =>
    client.query({
      name: 'insert-enrolment',
      text: `insert into enrolment_code (firm, id, hash, role, label, device, new_device, crew, person, made_by, made_at,
  expires_at, token) values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)`,
      values: [firm, id, hash, role, label, device, newDevice, crew, person, madeBy, madeAt, expiresAt, token],
    }),
  );
}

/**
 * Withdraws a code of which nothing came yet: also one that was used where the server ended before the token was stored,
 * or whoever has its secret could ask for the token later. The row is taken first, by a statement of its own, so that
 * the second sees the token of whoever had the row before.
 *
 * @returns whether it could still be withdrawn: it gave out no token, and was not withdrawn before
 */
export async function withdrawEnrolment(pool: pg.Pool, firm: string, id: string, now: string): Promise<boolean> {
  return inFirm(pool, firm, async (client) => {
    const text = 'select 1 from enrolment_code where firm = $1 and id = $2 for update';
    await client.query({ name: 'take-enrolment', text, values: [firm, id] });
    const { rowCount } = await client.query({
      name: 'withdraw-enrolment',
      text: `update enrolment_code set withdrawn_at = $3 where firm = $1 and id = $2 and withdrawn_at is null
  and not exists (select from token t where t.firm = $1 and t.id = enrolment_code.token)`,
      values: [firm, id, now],
    });
    return rowCount === 1;
  });
}

/** A code that is used by the phone that shows this secret, for the first time or again. */
export interface Claimed {
  readonly firm: string;
  readonly id: string;
  readonly role: Role;
  readonly device: string | null;
  readonly newDevice: boolean;
  readonly crew: string | null;
  readonly person: string | null;
  readonly madeBy: string | null;
  readonly token: string;
  /** What the phone that used it first called itself. */
  readonly usedLabel: string;
  readonly usedAt: string;
}

const FIND = `select firm from enrolment_code where hash = $1`;

/**
 * One statement: of two phones with one code the second waits for the first, finds the hash of the other's secret, and
 * gets no row. The same secret is the same phone, which did not hear the answer. A code ends with the token that made it:
 * whoever stole that one comes in by no code either.
 */
const CLAIM = `update enrolment_code set used_at = coalesce(used_at, $3), used_hash = $4, used_label = coalesce(used_label, $5, label)
where firm = $1 and hash = $2 and withdrawn_at is null and expires_at > $3 and (used_hash is null or used_hash = $4)
  and not exists (select from token t where t.firm = $1 and t.id = made_by and t.revoked_at is not null)
returning firm, id, role, device, new_device as "newDevice", crew, person, made_by as "madeBy", token,
  used_label as "usedLabel", used_at as "usedAt"`;

export interface Claim {
  readonly codeHash: Buffer;
  readonly secretHash: Buffer;
  /** Null: as the office called it. */
  readonly label: string | null;
  readonly now: string;
}

/**
 * Uses a code for a secret. The firm is not known before: the database shows the row to whoever has the code.
 *
 * @returns null for a code that is unknown, expired or withdrawn, or was used with another secret
 */
export async function claimEnrolment(pool: pg.Pool, claim: Claim): Promise<Claimed | null> {
  const { codeHash, secretHash, label, now } = claim;
  const client = await pool.connect();
  try {
    await client.query('begin');
    await client.query(`select set_config('wellround.code', $1, true)`, [codeHash.toString('hex')]);
    const found = await client.query<{ firm: string }>({ name: 'find-enrolment', text: FIND, values: [codeHash] });
    await client.query(`select set_config('wellround.firm', $1, true)`, [found.rows[0]?.firm ?? '']);
    const values = [found.rows[0]?.firm ?? null, codeHash, now, secretHash, label];
    const { rows } = await client.query<Claimed>({ name: 'claim-enrolment', text: CLAIM, values });
    await client.query('commit');
    return rows[0] ?? null;
  } catch (error) {
    await client.query('rollback').catch(() => undefined);
    throw error;
  } finally {
    client.release();
  }
}
