import type { Code } from '../protocol/codes.ts';
import type { Health, SetAsideCount } from '../store/health.ts';

/** One line of what doctor says: what was looked at, how it stands, and what to do where it does not stand well. */
export interface Finding {
  readonly about: string;
  readonly says: string;
  /** Missing where all is well. */
  readonly todo?: string;
}

export interface Judged {
  readonly health: Health;
  readonly durable: 'backup' | 'replicated';
  readonly nowMs: number;
  /** Bytes that are free where the embedded database lives; null where that is not this machine's business. */
  readonly freeBytes: number | null;
}

const HOUR_MS = 3_600_000;
const GIGABYTE = 1e9;
/** Common practice, no source: a nightly backup that failed once. */
const OLD_BACKUP_HOURS = 48;
/** Common practice, no source. */
const LITTLE_ROOM_BYTES = 2 * GIGABYTE;

function database({ health }: Judged): Finding {
  const says = `PostgreSQL ${health.version} answers`;
  if (health.careless.length === 0) return { about: 'database', says };
  const todo = `Switch ${health.careless.join(', ')} on: without it a power cut loses what was acknowledged.`;
  return { about: 'database', says: `${says}, with ${health.careless.join(', ')} off`, todo };
}

function tables({ health: { missingMigrations: missing, unknownMigrations: unknown } }: Judged): Finding {
  if (unknown.length > 0) {
    const todo = 'Start the release that made it, or a later one.';
    return {
      about: 'tables',
      says: `newer than this program: ${unknown.join(', ')}; nothing else was looked at in them`,
      todo,
    };
  }
  if (missing.length === 0) return { about: 'tables', says: 'up to date' };
  const todo = 'Take a backup, then start the server or run migrate: either brings them up to date. Then ask again.';
  return { about: 'tables', says: `${missing.join(', ')} to come; nothing else was looked at in them`, todo };
}

function backups({ health, durable, nowMs }: Judged): Finding[] {
  if (health.missingMigrations.length > 0 || health.unknownMigrations.length > 0) return [];
  const { backupMadeAt } = health;
  const hours = backupMadeAt === null ? null : Math.floor((nowMs - Date.parse(backupMadeAt)) / HOUR_MS);
  const says =
    hours === null ? 'none was ever made by this program' : `the newest is of ${backupMadeAt}, ${hours} hours ago`;
  if (durable === 'replicated') return [{ about: 'backup', says: `${says}; DURABLE is replicated` }];
  if (hours !== null && hours <= OLD_BACKUP_HOURS) return [{ about: 'backup', says }];
  const todo = 'Run backup FILE every night, onto another machine: until then phones keep all that is in none.';
  return [{ about: 'backup', says, todo }];
}

/** What is set aside for these is applied by itself, when what it waits for comes; for all else a person is needed. */
const WAITS_BY_ITSELF: readonly string[] = ['parent_missing', 'newer_server_needed'] satisfies Code[];

/** Common practice, no source: what has waited so long for something is not waiting for it any more. */
const LONG_WAIT_MS = 7 * 24 * HOUR_MS;

const FAULT_OF_OURS = 'server_failed' satisfies Code;

/** By reason; what to do where a person is needed, at once or since what it waits for does not come. */
function setAsideOf(about: string, counts: readonly SetAsideCount[], nowMs: number): Finding[] {
  if (counts.length === 0) return [];
  const all = counts.reduce((sum, { count }) => sum + count, 0);
  const each = counts.map(({ code, count, oldest }) => `${count} ${code} since ${oldest}`);
  const says = `${all} set aside: ${each.join('; ')}`;
  const isLate = ({ oldest }: SetAsideCount) => nowMs - Date.parse(oldest) > LONG_WAIT_MS;
  const others = counts.filter(({ code }) => code !== FAULT_OF_OURS);
  const todo = [
    ...(others.length < counts.length
      ? ['Look in the log for what the server failed on, and update it: it is tried again every hour.']
      : []),
    ...(others.every((one) => WAITS_BY_ITSELF.includes(one.code) && !isLate(one))
      ? []
      : ['Have a coordinator look at GET /v1/set-asides and release what is to count.']),
  ];
  return [todo.length === 0 ? { about, says } : { about, says, todo: todo.join(' ') }];
}

function firms({ health, nowMs }: Judged): Finding[] {
  return health.firms.flatMap(({ id, name, setAside, silent }) => {
    const about = `firm ${id} ${JSON.stringify(name)}`;
    const away = {
      about,
      says: `${silent} with unsent work and silent for more than three days`,
      todo: 'Find these phones (crews in touch of the event) and let them sync before they are lost.',
    };
    const found = [...setAsideOf(about, setAside, nowMs), ...(silent > 0 ? [away] : [])];
    return found.length > 0 ? found : [{ about, says: 'nothing waits' }];
  });
}

function room({ freeBytes }: Judged): Finding[] {
  if (freeBytes === null) return [];
  const says = `${(freeBytes / GIGABYTE).toFixed(1)} GB are free where the database lives`;
  if (freeBytes >= LITTLE_ROOM_BYTES) return [{ about: 'room', says }];
  return [{ about: 'room', says, todo: 'Make room: a database that finds none stops taking records.' }];
}

/** What is wrong or worrying, in the order in which it should be seen to. */
export function findingsOf(judged: Judged): Finding[] {
  return [database(judged), tables(judged), ...backups(judged), ...room(judged), ...firms(judged)];
}
