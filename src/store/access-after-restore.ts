import type { ClientBase } from 'pg';
import { listFirms } from './read/firm-list.ts';

/** A token that works. */
export interface LiveToken {
  readonly id: string;
  readonly label: string;
  readonly role: string;
  /** The label of its device; null of one without. */
  readonly device: string | null;
  /** The last push or pull by it that is on record; null of one that only asked or never came. */
  readonly lastSyncedAt: string | null;
}

export interface LiveAccess {
  readonly firm: string;
  readonly name: string | null;
  readonly tokens: readonly LiveToken[];
  /** Enrolment codes that can still be used. */
  readonly codes: number;
}

/** What was revoked or issued between the time of the data and the time when it was set back is not known any more. */
export interface SetBack {
  readonly beganAt: string;
  /** Null where something else than this program set it back: nothing says how old the data is. */
  readonly backupMadeAt: string | null;
}

const PRESENT = `select e.began_at as "beganAt", e.backup_made_at as "backupMadeAt"
from installation i join epoch e on e.epoch = i.epoch where e.how <> 'installed' and e.began_at > $1`;

const TOKENS = `select t.id, t.label, t.role, d.label as device, c.synced as "lastSyncedAt"
from token t left join device d on d.firm = t.firm and d.id = t.device
left join lateral (
  select max(greatest(pushed_at, pulled_at, seen_at)) as synced from client where firm = t.firm and token = t.id
) c on true
where t.firm = $1 and t.revoked_at is null and (t.expires_at is null or t.expires_at > $2)
order by c.synced desc nulls last, t.label, t.id`;

const CODES = `select count(*)::int as codes from enrolment_code
where firm = $1 and used_at is null and withdrawn_at is null and expires_at > $2`;

/** How the present epoch began, where the data was set back later than this. */
export async function setBackSince(owner: ClientBase, since: string): Promise<SetBack | null> {
  const { rows } = await owner.query<SetBack>(PRESENT, [since]);
  return rows[0] ?? null;
}

/** Who can come in at this time, firm by firm, the tokens that synced last first. */
export async function liveAccess(owner: ClientBase, now: string): Promise<LiveAccess[]> {
  const found: LiveAccess[] = [];
  for (const { id: firm, name } of await listFirms(owner)) {
    await owner.query(`select set_config('wellround.firm', $1, false)`, [firm]);
    const { rows: tokens } = await owner.query<LiveToken>(TOKENS, [firm, now]);
    const { rows } = await owner.query<{ codes: number }>(CODES, [firm, now]);
    found.push({ firm, name, tokens, codes: rows[0]?.codes ?? 0 });
  }
  return found;
}
