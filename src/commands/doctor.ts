import { statfs } from 'node:fs/promises';
import path from 'node:path';
import { databaseOptions, MIGRATIONS } from '../start.ts';
import { reachDatabase } from '../store/connections.ts';
import { healthOf } from '../store/health.ts';
import { type Command, counted, mustBeThere, say } from './command.ts';
import { findingsOf } from './findings.ts';

const DAY_MS = 86_400_000;

async function freeBytes(folder: string): Promise<number> {
  const { bavail, bsize } = await statfs(folder);
  return bavail * bsize;
}

/** Says what is wrong or worrying, and what to do; changes nothing. */
export const doctor: Command = async (given) => {
  const { config, logger, now } = given;
  await mustBeThere(given);
  const nowMs = now().getTime();
  const before = (days: number) => new Date(nowMs - days * DAY_MS).toISOString();
  const database = await reachDatabase(databaseOptions(config, logger));
  try {
    const owner = await database.owner();
    const question = { directory: MIGRATIONS, silentBefore: before(3) };
    const health = await healthOf(owner, question).finally(() => owner.end());
    const room = database.mode === 'embedded' ? await freeBytes(path.resolve(config.DATA_DIR)) : null;
    const findings = findingsOf({ health, durable: config.DURABLE, nowMs, freeBytes: room });
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
