import { statfs } from 'node:fs/promises';
import path from 'node:path';
import type { ClientBase } from 'pg';
import { LOOK_FOR_DAYS } from '../set-back-note.ts';
import { databaseOptions, MIGRATIONS } from '../start.ts';
import { type LiveAccess, liveAccess, type SetBack, setBackSince } from '../store/access-after-restore.ts';
import { reachDatabase } from '../store/connections.ts';
import { type Health, healthOf } from '../store/health.ts';
import { accessFindings } from './access-findings.ts';
import { type Command, counted, mustBeThere, say } from './command.ts';
import { findingsOf } from './findings.ts';

const DAY_MS = 86_400_000;

interface Looked {
  readonly health: Health;
  readonly setBack: SetBack | null;
  readonly access: readonly LiveAccess[];
}

/** Who can come in is asked of tables of this version only, and only where the data was set back lately. */
async function look(owner: ClientBase, now: Date): Promise<Looked> {
  const before = (days: number) => new Date(now.getTime() - days * DAY_MS).toISOString();
  const health = await healthOf(owner, { directory: MIGRATIONS, silentBefore: before(3) });
  const isOther = health.missingMigrations.length > 0 || health.unknownMigrations.length > 0;
  const setBack = isOther ? null : await setBackSince(owner, before(LOOK_FOR_DAYS));
  return { health, setBack, access: setBack === null ? [] : await liveAccess(owner, now.toISOString()) };
}

async function freeBytes(folder: string): Promise<number> {
  const { bavail, bsize } = await statfs(folder);
  return bavail * bsize;
}

/** Says what is wrong or worrying, and what to do; changes nothing. */
export const doctor: Command = async (given) => {
  const { config, logger, now } = given;
  await mustBeThere(given);
  const nowMs = now().getTime();
  const database = await reachDatabase(databaseOptions(config, logger));
  try {
    const owner = await database.owner();
    const { health, setBack, access } = await look(owner, now()).finally(() => owner.end());
    const room = database.mode === 'embedded' ? await freeBytes(path.resolve(config.DATA_DIR)) : null;
    const judged = findingsOf({ health, durable: config.DURABLE, nowMs, freeBytes: room });
    const findings = [...judged, ...accessFindings(setBack, access)];
    for (const { about, says, todo } of findings) {
      say(`${todo === undefined ? 'ok  ' : 'LOOK'} ${about}: ${says}`, ...(todo === undefined ? [] : [`     ${todo}`]));
    }
    const open = findings.filter(({ todo }) => todo !== undefined).length;
    say(open === 0 ? 'Nothing has to be done.' : `${counted(open, 'thing')} to look at`);
    if (open > 0) process.exitCode = 1;
  } finally {
    await database.close();
  }
};
