import type { ClientBase } from 'pg';
import { migrationsIn } from './migrations.ts';
import { listFirms } from './read/firm-list.ts';

/** What is set aside for one reason and not released. */
export interface SetAsideCount {
  readonly code: string;
  readonly count: number;
  /** When the oldest of it came. */
  readonly oldest: string;
}

/** What is waiting in a firm, and for how long. */
export interface FirmHealth {
  readonly id: string;
  readonly name: string | null;
  /** By reason, those first that there are most of. */
  readonly setAside: readonly SetAsideCount[];
  /** Clients that had unsent work when they were last in touch, longer ago than asked. */
  readonly silent: number;
}

export interface Health {
  readonly version: string;
  /** Settings without which an acknowledged record may be lost by a power cut; those that are off. */
  readonly careless: readonly string[];
  readonly missingMigrations: readonly string[];
  readonly unknownMigrations: readonly string[];
  /** When the newest backup was made; null where none ever was, or the tables know of none. */
  readonly backupMadeAt: string | null;
  readonly firms: readonly FirmHealth[];
}

const CARELESS = `select name from pg_settings
where (name in ('fsync', 'full_page_writes') and setting = 'off') or (name = 'synchronous_commit' and setting = 'off')
order by name`;

const SET_ASIDE = `select code, count(*) as count, min(received_at) as oldest from set_aside
where firm = $1 and standing in ('waiting', 'kept') and outcome = 'set_aside' group by code order by count desc, code`;

const SILENT = `select count(*) as silent from client
where firm = $1 and unsent_count > 0 and greatest(pushed_at, pulled_at) < $2`;

async function migrationNames(owner: ClientBase): Promise<string[]> {
  const there = await owner.query<{ there: boolean }>(`select to_regclass('_prisma_migrations') is not null as there`);
  if (there.rows[0]?.there !== true) return [];
  const { rows } = await owner.query<{ name: string }>(
    'select migration_name as name from _prisma_migrations where rolled_back_at is null and finished_at is not null',
  );
  return rows.map(({ name }) => name);
}

async function ofFirms(owner: ClientBase, since: HealthQuestion): Promise<FirmHealth[]> {
  const found: FirmHealth[] = [];
  for (const firm of await listFirms(owner)) {
    await owner.query(`select set_config('wellround.firm', $1, false)`, [firm.id]);
    const { rows: setAside } = await owner.query<SetAsideCount>(SET_ASIDE, [firm.id]);
    const { rows } = await owner.query<Pick<FirmHealth, 'silent'>>(SILENT, [firm.id, since.silentBefore]);
    for (const { silent } of rows) found.push({ ...firm, setAside, silent });
  }
  return found;
}

async function newestBackup(owner: ClientBase): Promise<string | null> {
  const { rows } = await owner.query<{ at: string | null }>('select max(made_at) as at from backup');
  return rows[0]?.at ?? null;
}

export interface HealthQuestion {
  readonly directory: string;
  readonly silentBefore: string;
}

/** How an installation stands; nothing is changed, not its version either. */
export async function healthOf(owner: ClientBase, question: HealthQuestion): Promise<Health> {
  const { rows: versions } = await owner.query<{ version: string }>(
    `select current_setting('server_version') as version`,
  );
  const careless = (await owner.query<{ name: string }>(CARELESS)).rows.map(({ name }) => name);
  const known = (await migrationsIn(question.directory)).map(({ name }) => name);
  const applied = await migrationNames(owner);
  const missingMigrations = known.filter((name) => !applied.includes(name));
  const unknownMigrations = applied.filter((name) => !known.includes(name));
  // tables of another version are not asked
  const upToDate = missingMigrations.length === 0 && unknownMigrations.length === 0;
  return {
    version: versions[0]?.version ?? 'unknown',
    careless,
    missingMigrations,
    unknownMigrations,
    backupMadeAt: upToDate ? await newestBackup(owner) : null,
    firms: upToDate ? await ofFirms(owner, question) : [],
  };
}
