import type pg from 'pg';
import { firmLock } from '../write/transaction.ts';
import type { BackupSummary, ClientMark } from './write-backup.ts';

const MARK = `update client c set durable = m.last from unnest($2::uuid[], $3::bigint[]) as m(id, last)
where c.firm = $1 and c.id = m.id and c.durable < m.last and c.last_mutation >= m.last
  and exists (select from installation where epoch = $4)`;

async function markFirm(
  owner: pg.ClientBase,
  firm: string,
  epoch: string,
  marks: readonly ClientMark[],
): Promise<number> {
  await owner.query('begin');
  try {
    await owner.query(`select set_config('wellround.firm', $1, true)`, [firm]);
    await owner.query(firmLock(firm));
    const columns = [marks.map(({ client }) => client), marks.map(({ last }) => last)];
    const { rowCount } = await owner.query(MARK, [firm, ...columns, epoch]);
    await owner.query('commit');
    return rowCount ?? 0;
  } catch (error) {
    await owner.query('rollback').catch(() => undefined);
    throw error;
  }
}

/**
 * Once a backup is safe: each client may forget what it keeps up to its last mutation in it, to the very number. A mark
 * never moves back, and is not set where the data was set back since. Notes the backup last, when all is marked.
 *
 * @returns of how many clients the mark moved
 */
export async function markDurable(owner: pg.ClientBase, backup: BackupSummary): Promise<number> {
  if (backup.marks === null) return 0;
  let moved = 0;
  for (const [firm, marks] of backup.marks) moved += await markFirm(owner, firm, backup.epoch, marks);
  await owner.query(
    `insert into backup (sha256, epoch, made_at, row_count, byte_count) values ($1, $2, $3, $4, $5)
on conflict do nothing`,
    [backup.sha256, backup.epoch, backup.madeAt, backup.rows, backup.bytes],
  );
  return moved;
}
