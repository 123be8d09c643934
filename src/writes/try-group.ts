import type pg from 'pg';
import { faultOf, isOverrun } from '../store/fault.ts';
import { RecordMemory } from '../store/write/record-memory.ts';
import { inWrite, isOwnOverrun, type WriteTx } from '../store/write/transaction.ts';
import { applyGroup } from './apply-group.ts';
import type { Answer, Batch } from './batch.ts';
import type { FirmMemories } from './firm-memories.ts';
import type { Taking } from './gather.ts';

/** What the write door stands on. */
export interface WriteContext {
  readonly pool: pg.Pool;
  readonly now: () => Date;
  /**
   * Called after each commit with where the feeds of the firm that it changed end now; with null where it is not known
   * what was committed, since an answer of the database was lost.
   */
  readonly committed: (firm: string, tails: ReadonlyMap<string, number> | null) => void;
  /**
   * Told of a line on which code of ours failed, or that took too long when it was taken up: it is set aside, and tried
   * again. Where nobody is told, a push that meets a fault of ours fails with it.
   */
  readonly failed?: (setAside: string, error: unknown) => void;
  /** What the process remembers from one transaction to the next; without it, everything is loaded each time. */
  readonly memories?: FirmMemories;
}

/** How often a group is tried when the database asks for it, before the client is told to ask again. */
const TRIES = 4;

/** How a group is applied. */
interface Manner extends Taking {
  /** A part of what overran or failed before: that it overruns is found out once. */
  readonly isPart?: boolean;
}

/** Applies batches in one transaction, which is tried again where the database asks for it. */
export async function tryGroup(
  ctx: WriteContext,
  firm: string,
  batches: readonly Batch[],
  manner: Manner = { takesWaiting: true },
): Promise<Answer[]> {
  const work = (tx: WriteTx) => applyGroup(tx, batches, ctx.now, manner);
  for (let tries = 1; ; tries++) {
    const memory = ctx.memories?.of(firm) ?? new RecordMemory();
    try {
      const { answers, sequenced } = await inWrite(ctx.pool, firm, work, memory);
      memory.learn(sequenced.written, sequenced.tails);
      ctx.committed(firm, new Map([...sequenced.tails].map(([feed, { seq }]) => [feed, seq])));
      return [...answers];
    } catch (error) {
      // it may have read back what it had written itself
      ctx.memories?.drop(firm);
      // A lost COMMIT reply means "unknown": trying again with the same numbers finds the receipts or applies anew.
      const transient = faultOf(error) === 'transient';
      if (transient) ctx.committed(firm, null);
      // what is taken up unasked, or can be tried otherwise, has the lock no longer than it takes once to find that it overruns
      const isTooMuch = manner.takesUp
        ? isOverrun(error)
        : isOwnOverrun(error) && (manner.isPart || !isOneRequest(batches));
      if (!transient || isTooMuch || tries >= TRIES) throw error;
    }
  }
}

/** What comes as one request stays together, unless the database refuses it. */
export function isOneRequest(batches: readonly Batch[]): boolean {
  const [first, ...others] = batches;
  return others.length === 0 && first?.oneShot === true && first.lines.length > 1;
}
