import path from 'node:path';
import { revokedSince, WHAT_TO_DO } from '../set-back-note.ts';
import { databaseOptions, MIGRATIONS } from '../start.ts';
import { restoreBackup } from '../store/backup/restore-backup.ts';
import { openDatabase } from '../store/connections.ts';
import { type Command, counted, fileOf, say } from './command.ts';

/** Fills an empty database from a backup. */
export const restore: Command = async (given) => {
  const file = path.resolve(fileOf(given, 'restore'));
  const database = await openDatabase(databaseOptions(given.config, given.logger));
  try {
    const owner = await database.owner();
    const now = given.now().toISOString();
    const into = { directory: MIGRATIONS, now };
    const { header, rows, migrated } = await restoreBackup(owner, file, into).finally(() => owner.end());
    say(`${counted(rows, 'row')} restored, as of ${header.madeAt}`);
    if (migrated.length > 0) say(`brought up to date by ${migrated.join(', ')}`);
    say('The epoch is a new one: phones begin their feeds anew, and say again what they keep. Start the server.');
    say(`${revokedSince({ backupMadeAt: header.madeAt })} ${WHAT_TO_DO}`);
  } finally {
    await database.close();
  }
};
