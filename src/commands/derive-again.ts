import { type ChangesByKind, deriveAgain } from '../writes/derive-again.ts';
import { allFirms, type Command, called, counted, say, withStore } from './command.ts';

function changesText(changes: ChangesByKind): string {
  if (changes.size === 0) return 'nothing differed';
  const each = [...changes].map(
    ([kind, { written, withdrawn }]) => `${kind} ${written} written, ${withdrawn} withdrawn`,
  );
  return each.toSorted().join('; ');
}

/** Derives every assessment, flag, conflict and summary by the rules of today. */
export const again: Command = (given) =>
  withStore(given, async (store) => {
    const firms = await allFirms(store);
    for (const firm of firms) {
      const changes = await deriveAgain(store.ctx.pool, firm.id, store.ctx.now);
      say(`${called(firm)}: ${changesText(changes)}`);
    }
    say(counted(firms.length, 'firm'));
  });
