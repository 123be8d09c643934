import { revokedSince, WHAT_TO_DO } from '../set-back-note.ts';
import { declareEpoch } from '../store/backup/epochs.ts';
import { type Command, say, withStore } from './command.ts';

/** Says that the data was set back by something else than restore. */
export const newEpoch: Command = (given) =>
  withStore(given, async ({ database, ctx }) => {
    const owner = await database.owner();
    const epoch = await declareEpoch(owner, ctx.now().toISOString()).finally(() => owner.end());
    say(`epoch ${epoch}`, 'Phones begin their feeds anew, and say again what they keep.');
    say(`${revokedSince({ backupMadeAt: null })} ${WHAT_TO_DO}`);
  });
