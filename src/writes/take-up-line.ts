import { faultOf } from '../store/fault.ts';
import { isNotOpened, isOwnOverrun } from '../store/write/transaction.ts';
import { companionsOf } from './companions.ts';
import { isOver, type Round, timed } from './take-up-round.ts';
import { tryGroup } from './try-group.ts';

/** How a try ended; what is no word of the database about the line is the error. */
type Try = 'taken' | 'refused' | { readonly error: unknown };

/** A database that is away concerns all lines alike, and is thrown; what one line alone asks too much of does not. */
async function tried(round: Round, id: string, takesWaiting: boolean): Promise<Try> {
  const { ctx, firm } = round;
  try {
    await timed(round, () => tryGroup(ctx, firm, [], { takesWaiting, takesUp: [id] }));
    return 'taken';
  } catch (error) {
    const fault = faultOf(error);
    if (fault === 'transient' && !isOwnOverrun(error)) throw error;
    return fault === 'refused' ? 'refused' : { error };
  }
}

function overran(tried: Try): boolean {
  return typeof tried === 'object' && isOwnOverrun(tried.error);
}

/** Without what waits for it; once it is applied, each of those is tried by itself. */
async function triedAlone(round: Round, id: string): Promise<Try> {
  const { lap } = round;
  const companions = await companionsOf({ ...round.ctx, firm: round.firm }, id);
  const last = await tried(round, id, false);
  if (last !== 'taken') return last;
  for (const companion of companions) if (!lap.tried.has(companion)) lap.companions.add(companion);
  return last;
}

/**
 * What waited for a line may be the cause, and then goes on waiting. A line that overran its time is not tried again in
 * this round: without what waits for it, it is in the next lap.
 */
async function lastTry(round: Round, id: string): Promise<Try> {
  const { alone, overran: tooLong } = round.lap;
  if (alone.has(id)) return triedAlone(round, id);
  const first = await tried(round, id, true);
  if (overran(first)) tooLong.add(id);
  return first === 'taken' || overran(first) ? first : triedAlone(round, id);
}

/** Until it is known what became of a line, it counts as one that failed. */
async function noted(round: Round, id: string): Promise<Try> {
  const { tried: all, failed } = round.lap;
  all.add(id);
  failed.add(id);
  try {
    return await lastTry(round, id);
  } catch (error) {
    // what never had the lock of the firm was not tried
    if (isNotOpened(error)) all.delete(id);
    throw error;
  }
}

/**
 * In a transaction of its own: one that the database refuses, or that fails by itself, stays where it is and stops no
 * other.
 */
export async function takeUpOne(round: Round, id: string): Promise<void> {
  const last = await noted(round, id);
  if (typeof last === 'string') {
    round.lap.failed.delete(id);
    return;
  }
  if (overran(last)) round.overruns += 1;
  round.ctx.failed?.(id, last.error);
}

/** Each that waited for a line that was applied without it, by itself: only one that fails goes on waiting. */
export async function takeCompanions(round: Round): Promise<void> {
  const { companions, failedCompanions, failed } = round.lap;
  // a set is gone through with what is added meanwhile
  for (const id of companions) {
    if (isOver(round)) return;
    companions.delete(id);
    failedCompanions.add(id);
    await takeUpOne(round, id);
    if (!failed.has(id)) failedCompanions.delete(id);
  }
}
