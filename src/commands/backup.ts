import path from 'node:path';
import { databaseOptions } from '../start.ts';
import { markDurable } from '../store/backup/mark-durable.ts';
import { writeBackup } from '../store/backup/write-backup.ts';
import { reachDatabase } from '../store/connections.ts';
import { type Command, counted, fileOf, mustBeThere, say } from './command.ts';

/** Writes a backup, and tells phones what they may forget once it is safe. The tables are left as they are. */
export const backup: Command = async (given) => {
  const file = path.resolve(fileOf(given, 'backup'));
  await mustBeThere(given);
  const database = await reachDatabase(databaseOptions(given.config, given.logger));
  try {
    const made = await writeBackup(() => database.owner(), file);
    say(`${file}: ${counted(made.rows, 'row')}, ${counted(made.bytes, 'byte')}, as of ${made.madeAt}`);
    say(`SHA-256 of its content ${made.sha256.toString('hex')}`);
    const owner = await database.owner();
    const moved = await markDurable(owner, made).finally(() => owner.end());
    if (made.marks === null)
      say('The tables are older than the mark of what is durable: no phone forgets anything yet.');
    else say(`${counted(moved, 'client')} may forget more of what is in it`);
  } finally {
    await database.close();
  }
};
