import { randomUUID } from 'node:crypto';
import type pg from 'pg';
import type { Role } from '../protocol/kind.ts';
import { newSecret, secretHash } from '../store/tokens.ts';
import { insertToken } from '../store/write/token-rows.ts';
import type { Actor, Batch } from './batch.ts';
import type { Lane } from './lane.ts';

/** A token that was just issued: the secret is shown this once. */
export interface Issued {
  readonly id: string;
  readonly secret: string;
}

export interface TokenWish {
  readonly label: string;
  readonly role: Role;
  readonly device?: string | null;
  readonly expiresAt?: string | null;
}

export async function issueToken(pool: pg.Pool, firm: string, wish: TokenWish, now: Date): Promise<Issued> {
  const id = randomUUID();
  const secret = newSecret();
  const { label, role, device = null, expiresAt = null } = wish;
  const row = { firm, id, hash: secretHash(secret), label, role, device, createdAt: now.toISOString(), expiresAt };
  await insertToken(pool, row);
  return { id, secret };
}

function firmLine(firm: string, name: string): Batch['lines'][number] {
  const text = JSON.stringify({ mutationId: 1, verb: 'record', kind: 'firm', id: firm, set: { name } });
  return { bytes: Buffer.from(text), text };
}

function firmBatch(firm: string, token: string, name: string): Batch {
  const actor: Actor = { firm, token, role: 'admin', device: null, person: null, revoked: false };
  return {
    actor,
    client: randomUUID(),
    first: 1,
    lines: [firmLine(firm, name)],
    schemaVersion: 1,
    sent: null,
    roundTripMs: 0,
    unsent: null,
    oneShot: true,
    carried: false,
  };
}

/** A new firm, with its name entered through the write door and a first token for whoever sets up the rest. */
export async function setUpFirm(
  pool: pg.Pool,
  lane: Lane,
  name: string,
  now: Date,
): Promise<{ readonly firm: string; readonly admin: Issued }> {
  const firm = randomUUID();
  const admin = await issueToken(pool, firm, { label: 'First administrator', role: 'admin' }, now);
  const answer = await lane(firmBatch(firm, admin.id, name));
  const [outcome] = answer.status === 'answered' ? answer.outcomes : [];
  if (!outcome?.includes('"outcome":"applied"')) {
    throw new Error(`The firm ${JSON.stringify(name)} was not entered: ${outcome ?? JSON.stringify(answer)}`);
  }
  return { firm, admin };
}
