import type pg from 'pg';
import { faultOf, isOverrun } from '../store/fault.ts';
import { RecordMemory } from '../store/write/record-memory.ts';
import { inWrite, isNotOpened, isOwnOverrun, type WriteTx } from '../store/write/transaction.ts';
import { applyGroup } from './apply-group.ts';
import type { Answer, Batch } from './batch.ts';
import type { FirmMemories } from './firm-memories.ts';
import type { Taking } from './gather.ts';
import { keepAside } from './keep-aside.ts';

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

/** Applies batches in one transaction, which is tried again where the database asks for it. */
export async function tryGroup(
  ctx: WriteContext,
  firm: string,
  batches: readonly Batch[],
  options?: Taking,
): Promise<Answer[]> {
  const work = (tx: WriteTx) => applyGroup(tx, batches, ctx.now, options);
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
      // what is taken up unasked, or can be done in parts, has the lock no longer than it takes once to find that it overruns
      const isTooMuch = options?.takesUp ? isOverrun(error) : isOwnOverrun(error) && hasParts(batches);
      if (!transient || isTooMuch || tries >= TRIES) throw error;
    }
  }
}

/** What comes as one request stays together, unless the database refuses it. */
function hasParts(batches: readonly Batch[]): boolean {
  return batches.length > 1 || batches.some(({ lines, oneShot }) => lines.length > 1 && !oneShot);
}

/** Code of ours failed on what it was given, under the lock of the firm. */
function isOurs(error: unknown): boolean {
  return faultOf(error) === 'ours' && !isNotOpened(error);
}

/** Whether it is due to one of the lines, or to their number, so that it would come again with the same. */
function isOfLines(batches: readonly Batch[], error: unknown): boolean {
  if (faultOf(error) === 'refused') return true;
  if (isOurs(error)) return batches.length > 1 || !batches[0]?.oneShot;
  return isOwnOverrun(error) && hasParts(batches);
}

function halves(batches: readonly Batch[]): [readonly Batch[], readonly Batch[]] {
  const middle = Math.ceil(batches.length / 2);
  return [batches.slice(0, middle), batches.slice(middle)];
}

function halvesOf(batch: Batch): [Batch, Batch] {
  const middle = Math.ceil(batch.lines.length / 2);
  const first = { ...batch, lines: batch.lines.slice(0, middle) };
  return [first, { ...batch, first: batch.first + middle, lines: batch.lines.slice(middle) }];
}

function joined(first: Answer, second: Answer): Answer {
  if (first.status !== 'answered' || second.status !== 'answered') return first.status === 'answered' ? second : first;
  return {
    ...second,
    outcomes: [...first.outcomes, ...second.outcomes],
    repeated: first.repeated + second.repeated,
  };
}

/**
 * Who asks for an answer at once is told that it failed: nothing stands behind it and waits. What a revoked device hands
 * in is for a person to look at, and would not be after this.
 */
function keeps({ failed }: WriteContext, { oneShot, actor }: Batch, error: unknown): boolean {
  if (faultOf(error) === 'refused') return true;
  return isOurs(error) && failed !== undefined && !oneShot && !actor.revoked;
}

/** One mutation: what waited for it may be the culprit, and then goes on waiting. */
async function applyOne(ctx: WriteContext, firm: string, batch: Batch): Promise<Answer> {
  try {
    const [answer] = await tryGroup(ctx, firm, [batch], { takesWaiting: false });
    if (!answer) throw new Error('the write door lost an answer');
    return answer;
  } catch (error) {
    if (!keeps(ctx, batch, error)) throw error;
    return keepAside(ctx, firm, batch, error);
  }
}

/** A batch that fails as a whole: the half without the culprit goes through, the culprit alone is set aside. */
async function applySplit(ctx: WriteContext, firm: string, batch: Batch, error: unknown): Promise<Answer> {
  if (batch.lines.length <= 1) return applyOne(ctx, firm, batch);
  const [left, right] = halvesOf(batch);
  const [first] = await apply(ctx, firm, [left]);
  const [second] = await apply(ctx, firm, [right]);
  if (!first || !second) throw error;
  return joined(first, second);
}

/**
 * The one door for writes. Applies batches of a firm in one transaction and answers each. If the database refuses the
 * group, code of ours fails on it or it takes too long, it is split until the culprit is found.
 *
 * @throws what the database says when it cannot be reached, or when one mutation alone takes too long: then it is not
 *   known what is stored, and the same batches may be sent again
 */
export async function apply(ctx: WriteContext, firm: string, batches: readonly Batch[]): Promise<Answer[]> {
  try {
    return await tryGroup(ctx, firm, batches);
  } catch (error) {
    if (!isOfLines(batches, error)) throw error;
    const [only] = batches;
    if (batches.length === 1 && only) return [await applySplit(ctx, firm, only, error)];
    const [left, right] = halves(batches);
    return [...(await apply(ctx, firm, left)), ...(await apply(ctx, firm, right))];
  }
}
