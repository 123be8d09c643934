import type { Store } from '../start.ts';
import type { ListedFirm } from '../store/read/firm-list.ts';
import { type ChangesByKind, deriveAgain } from '../writes/derive-again.ts';
import { rememberAgain } from '../writes/remember-again.ts';
import { retype } from '../writes/retype.ts';
import { takeUp } from '../writes/take-up.ts';
import { type Command, called, counted, say, throughFirms, withStore } from './command.ts';

function changesText(changes: ChangesByKind): string {
  if (changes.size === 0) return 'nothing differed';
  const each = [...changes].map(
    ([kind, { written, withdrawn }]) => `${kind} ${written} written, ${withdrawn} withdrawn`,
  );
  return each.toSorted().join('; ');
}

/** What is remembered for merging, what newer phones had written before the upgrade, and fields that have a column by now. */
async function bringUpToDate({ ctx }: Store, firm: ListedFirm): Promise<void> {
  const remembered = await rememberAgain(ctx.pool, firm.id);
  if (remembered > 0)
    say(`${called(firm)}: what is remembered for merging written anew of ${counted(remembered, 'record')}`);
  const applied = await takeUp({ pool: ctx.pool, now: ctx.now, committed: () => undefined }, firm.id);
  if (applied > 0) say(`${called(firm)}: ${counted(applied, 'change')} of newer phones applied`);
  const { written, unfit } = await retype(ctx.pool, firm.id);
  if (written > 0) say(`${called(firm)}: ${counted(written, 'typed row')} brought to what its record says`);
  for (const { kind, id, why } of unfit) say(`${called(firm)}: the typed row of ${kind} ${id} stays as it was: ${why}`);
}

/** Derives every assessment, flag, conflict and summary by the rules of today. */
export const again: Command = (given) =>
  withStore(given, async (store) => {
    const firms = await throughFirms(store, async (firm) => {
      await bringUpToDate(store, firm);
      const changes = await deriveAgain(store.ctx.pool, firm.id, store.ctx.now);
      say(`${called(firm)}: ${changesText(changes)}`);
    });
    say(firms);
  });
