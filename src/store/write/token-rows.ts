import type pg from 'pg';
import type { Role } from '../../protocol/kind.ts';
import { inFirm } from './in-firm.ts';

/** A token to be stored; the secret itself never is. */
export interface NewToken {
  readonly firm: string;
  readonly id: string;
  readonly hash: Buffer;
  readonly label: string;
  readonly role: Role;
  readonly device: string | null;
  /** Of a token of a laboratory, and of no other. */
  readonly laboratory?: string | null;
  readonly createdAt: string;
  readonly expiresAt: string | null;
}

export async function insertToken(pool: pg.Pool, token: NewToken): Promise<void> {
  const { firm, id, hash, label, role, device, laboratory = null, createdAt, expiresAt } = token;
  await inFirm(pool, firm, (client) =>
    client.query(
      `insert into token (firm, id, hash, label, role, device, laboratory, created_at, expires_at)
values ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
      [firm, id, hash, label, role, device, laboratory, createdAt, expiresAt],
    ),
  );
}

/**
 * The token of an enrolment code, under an id and a secret that may have been stored before, when its answer was lost.
 * The row of the code is taken while it is stored: a code is withdrawn before that or not at all.
 *
 * @returns false where the secret is that of another token, or the code was withdrawn in between
 */
export async function insertTokenOnce(pool: pg.Pool, token: NewToken): Promise<boolean> {
  const { firm, id, hash, label, role, device, createdAt, expiresAt } = token;
  return inFirm(pool, firm, async (client) => {
    await client.query({
      name: 'insert-token-once',
      text: `insert into token (firm, id, hash, label, role, device, created_at, expires_at)
select $1, $2, $3, $4, $5, $6, $7, $8 from (
  select from enrolment_code where firm = $1 and token = $2 and withdrawn_at is null for update
) as code on conflict do nothing`,
      values: [firm, id, hash, label, role, device, createdAt, expiresAt],
    });
    const text = 'select id from token where firm = $1 and id = $2 and hash = $3';
    return (await client.query({ name: 'token-of-secret', text, values: [firm, id, hash] })).rows.length === 1;
  });
}

/** An enrolment code that was withdrawn with the token that had made it. */
export interface WithdrawnCode {
  readonly id: string;
  readonly label: string;
}

const TAKE_OPEN = `select id from enrolment_code where firm = $1 and made_by = $2 and withdrawn_at is null and expires_at > $3
order by id for update`;

const WITHDRAW = `update enrolment_code set withdrawn_at = $3 where firm = $1 and id = any($2::uuid[]) and withdrawn_at is null
  and not exists (select from token t where t.firm = $1 and t.id = enrolment_code.token)`;

const WITHDRAWN = `select c.id, c.label from enrolment_code c join token t on t.firm = $1 and t.id = c.made_by
where c.firm = $1 and c.made_by = $2 and c.withdrawn_at = t.revoked_at order by c.id`;

/**
 * Revokes a token, and with it the codes that it had made and that gave out no token yet. Their rows are taken first, by a
 * statement of its own: whoever uses one at this moment comes before or not at all.
 *
 * @returns the codes that were withdrawn with it, also where it was revoked before
 */
export async function revokeToken(pool: pg.Pool, firm: string, id: string, now: string): Promise<WithdrawnCode[]> {
  return inFirm(pool, firm, async (client) => {
    const text = 'update token set revoked_at = coalesce(revoked_at, $3::timestamptz) where firm = $1 and id = $2';
    await client.query({ name: 'revoke-token', text, values: [firm, id, now] });
    const open = await client.query<{ id: string }>({ name: 'open-codes', text: TAKE_OPEN, values: [firm, id, now] });
    const codes = open.rows.map((row) => row.id);
    await client.query({ name: 'withdraw-codes', text: WITHDRAW, values: [firm, codes, now] });
    const values = [firm, id];
    return (await client.query<WithdrawnCode>({ name: 'withdrawn-codes', text: WITHDRAWN, values })).rows;
  });
}

/** A client that looks for news. */
export interface PullNote {
  readonly client: string;
  readonly token: string;
  readonly schemaVersion: number;
  readonly now: string;
  /** The server time of the list of feeds that it knew when it captured what it has not sent; null where it says none. */
  readonly seen: string | null;
  /** The client id that it gave up, since that was used with a newer memory, or twice. */
  readonly formerly: string | null;
}

const NOTE_PULL = `insert into client as known (firm, id, token, schema_version, pulled_at, seen_at, formerly, came_back_at)
values ($1, $2, $3, $4, $5, $6, $7, $8)
on conflict (firm, id) do update set token = excluded.token, pulled_at = excluded.pulled_at,
  seen_at = greatest(known.seen_at, excluded.seen_at), formerly = coalesce(known.formerly, excluded.formerly),
  came_back_at = coalesce(known.came_back_at, excluded.came_back_at)
where known.token is null or known.token = excluded.token or exists (
  select from token one join token other on other.firm = one.firm and other.device = one.device
  where one.firm = $1 and one.id = known.token and other.id = excluded.token)`;

/** Notes that a client has looked for news, for whoever asks when a crew was last in touch; its first word counts too. */
export async function notePull(pool: pg.Pool, firm: string, note: PullNote): Promise<void> {
  const { client, token, schemaVersion, now, seen, formerly } = note;
  const values = [firm, client, token, schemaVersion, now, seen, formerly, formerly === null ? null : now];
  await inFirm(pool, firm, (connection) => connection.query(NOTE_PULL, values));
}
