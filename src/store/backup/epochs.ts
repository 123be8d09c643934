import type { ClientBase } from 'pg';
import { listFirms } from '../read/firm-list.ts';

export interface Epoch {
  readonly epoch: string;
  readonly beganAt: string;
  readonly how: 'installed' | 'restored' | 'declared';
  /** Of the backup that was restored. */
  readonly backupMadeAt: string | null;
}

/** Where each feed of the firm ends, found by hopping from one feed to the next along the key. */
const ANCHOR = `with recursive hop(feed) as (
  (select feed from ledger where firm = $1 order by feed limit 1)
  union all
  select (select l.feed from ledger l where l.firm = $1 and l.feed > hop.feed order by l.feed limit 1)
  from hop where hop.feed is not null
)
insert into epoch_anchor (firm, epoch, feed, tail, history_hash)
select $1, $2, hop.feed, t.seq, t.history_hash from hop
cross join lateral (
  select seq, history_hash from ledger where firm = $1 and feed = hop.feed order by seq desc limit 1
) t where hop.feed is not null
on conflict do nothing`;

/** Gives the installation another epoch: whoever comes with a cursor of an earlier one begins anew. */
export async function changeEpoch(owner: ClientBase): Promise<void> {
  await owner.query('update installation set epoch = gen_random_uuid()');
}

/** Notes how the present epoch began, and where each feed stood then. To be called in a transaction. */
export async function noteEpoch(owner: ClientBase, began: Omit<Epoch, 'epoch'>): Promise<void> {
  const { rows } = await owner.query<{ epoch: string }>(
    `insert into epoch (epoch, began_at, how, backup_made_at) select epoch, $1, $2, $3 from installation
on conflict (epoch) do update set began_at = excluded.began_at, how = excluded.how, backup_made_at = excluded.backup_made_at
returning epoch`,
    [began.beganAt, began.how, began.backupMadeAt],
  );
  for (const { id: firm } of await listFirms(owner)) {
    await owner.query(`select set_config('wellround.firm', $1, true)`, [firm]);
    await owner.query(ANCHOR, [firm, rows[0]?.epoch]);
  }
}

/** Said after the data was set back by something else than this program. @returns the new epoch */
export async function declareEpoch(owner: ClientBase, now: string): Promise<string> {
  await owner.query('begin');
  try {
    await changeEpoch(owner);
    await noteEpoch(owner, { beganAt: now, how: 'declared', backupMadeAt: null });
    const { rows } = await owner.query<{ epoch: string }>('select epoch from installation');
    await owner.query('commit');
    return rows[0]?.epoch ?? '';
  } catch (error) {
    await owner.query('rollback').catch(() => undefined);
    throw error;
  }
}

/** Every epoch, the oldest first. */
export async function epochs(owner: ClientBase): Promise<Epoch[]> {
  const { rows } = await owner.query<Epoch>(
    `select epoch, began_at as "beganAt", how, backup_made_at as "backupMadeAt" from epoch order by began_at, epoch`,
  );
  return rows;
}
