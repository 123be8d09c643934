import type { Store } from '../start.ts';
import { type Epoch, epochs } from '../store/backup/epochs.ts';
import { verifyFirm } from '../writes/verify-firm.ts';
import { type Command, called, counted, say, throughFirms, withStore } from './command.ts';

const WHAT_NOW =
  'What is derived, derive-again writes anew, and what is remembered for merging too. Anything else was changed or cut off past the server: compare with a backup.';

function epochText({ epoch, beganAt, how, backupMadeAt }: Epoch): string {
  const why =
    how === 'restored' ? `restored from a backup of ${backupMadeAt}` : 'set back by something else than restore';
  return `epoch ${epoch} since ${beganAt}: ${why}`;
}

/** Where the history was set back and went on: said, since what came after the backup is only there if phones said it again. */
async function sayBreaks({ database }: Store): Promise<void> {
  const owner = await database.owner();
  const all = await epochs(owner).finally(() => owner.end());
  say(...all.filter(({ how }) => how !== 'installed').map(epochText));
}

/** Compares what is stored with what the ledger says, and the ledger with what others witness of it. */
export const verify: Command = (given) =>
  withStore(given, async (store) => {
    let found = 0;
    const firms = await throughFirms(store, async (firm) => {
      const differences = await verifyFirm(store.ctx.pool, firm.id);
      found += differences.length;
      say(`${called(firm)}: ${differences.length === 0 ? 'sound' : counted(differences.length, 'difference')}`);
      for (const { feed, kind, id, what, detail } of differences) say(`  ${what} ${feed} ${kind} ${id}: ${detail}`);
    });
    await sayBreaks(store);
    say(`${firms}, ${counted(found, 'difference')}`);
    if (found === 0) return;
    say(WHAT_NOW);
    process.exitCode = 1;
  });
