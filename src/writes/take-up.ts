import { isUnreadable } from '../protocol/read-mutation.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import { faultOf, isOverrun } from '../store/fault.ts';
import { type NewerSetAside, newerSetAside, notReleased } from '../store/read/newer-set-aside.ts';
import { inRead } from '../store/read/transaction.ts';
import { markTried } from '../store/write/persist-receipts.ts';
import { inWrite } from '../store/write/transaction.ts';
import { tryGroup, type WriteContext } from './apply.ts';
import { readLine } from './read-line.ts';

/** So many lines are in the memory at once; one may have 64 KB. */
const LINES_A_PART = 50;

function isReadable({ raw, schemaVersion }: NewerSetAside): boolean {
  return !isUnreadable(readLine(raw.toString('utf8'), schemaVersion ?? undefined));
}

export interface TakeUpContext extends WriteContext {
  /** Told of a line that failed by a fault of ours or took too long: it stays where it is, and is tried again next time. */
  readonly failed?: (setAside: string, error: unknown) => void;
}

/** How a try ended; what is no word of the database about the line is the error. */
type Try = 'taken' | 'refused' | { readonly error: unknown };

/** A database that is away concerns all lines alike, and is thrown; what one line alone asks too much of does not. */
async function tried(ctx: WriteContext, firm: string, id: string, takesWaiting: boolean): Promise<Try> {
  try {
    await tryGroup(ctx, firm, [], { takesWaiting, takesUp: [id] });
    return 'taken';
  } catch (error) {
    const fault = faultOf(error);
    if (fault === 'transient' && !isOverrun(error)) throw error;
    return fault === 'refused' ? 'refused' : { error };
  }
}

/**
 * In a transaction of its own: one that the database refuses, or that fails by itself, stays where it is and stops no
 * other. What waited for it may be the cause, and then goes on waiting.
 *
 * @returns whether it failed
 */
async function takeUpOne(ctx: TakeUpContext, firm: string, id: string): Promise<boolean> {
  if ((await tried(ctx, firm, id, true)) === 'taken') return false;
  const alone = await tried(ctx, firm, id, false);
  if (typeof alone === 'string') return false;
  ctx.failed?.(id, alone.error);
  return true;
}

/** What became of lines that were tried: those that still wait are one or the other. */
interface TakenUp {
  readonly applied: number;
  /** Decided otherwise, or refused. */
  readonly left: readonly string[];
}

async function takeUpAll(ctx: TakeUpContext, firm: string, ids: readonly string[]): Promise<TakenUp> {
  if (ids.length === 0) return { applied: 0, left: [] };
  const failed = new Set<string>();
  for (const id of ids) if (await takeUpOne(ctx, firm, id)) failed.add(id);
  const still = await inRead(ctx.pool, firm, (tx) => notReleased(tx, ids));
  return { applied: ids.length - still.length, left: still.filter((id) => !failed.has(id)) };
}

async function mark(ctx: WriteContext, firm: string, ids: readonly string[]): Promise<void> {
  if (ids.length > 0) await inWrite(ctx.pool, firm, (tx) => markTried(tx, ids, SCHEMA_VERSION));
}

/** Each once, a part at a time. @returns how many were applied, and the ids of those that can be read and were not */
async function firstRound(ctx: TakeUpContext, firm: string): Promise<{ applied: number; left: string[] }> {
  const left: string[] = [];
  let applied = 0;
  let after: NewerSetAside | null = null;
  for (;;) {
    const asked = { version: SCHEMA_VERSION, after, limit: LINES_A_PART };
    const part: NewerSetAside[] = await inRead(ctx.pool, firm, (tx) => newerSetAside(tx, asked));
    const readable = part.filter(isReadable).map(({ id }) => id);
    const unreadable = part.map(({ id }) => id).filter((id) => !readable.includes(id));
    const done = await takeUpAll(ctx, firm, readable);
    applied += done.applied;
    left.push(...done.left);
    await mark(ctx, firm, unreadable);
    if (part.length < LINES_A_PART) return { applied, left };
    after = part.at(-1) ?? null;
  }
}

/**
 * Applies what newer phones had written before this server was brought up to date, in the names of its authors and
 * with what they had in view, and with it what waited for that. What still cannot be read, or is decided otherwise,
 * goes on waiting, and is not tried again by servers of this version; what failed by a fault of ours is. Run at every
 * start and every hour; where there is nothing it asks the database once.
 *
 * @returns how many were applied
 */
export async function takeUp(ctx: TakeUpContext, firm: string): Promise<number> {
  const first = await firstRound(ctx, firm);
  let [applied, left] = [first.applied, first.left];
  // one may need what another brings, which came later
  for (let before = Number.POSITIVE_INFINITY; left.length > 0 && left.length < before; ) {
    before = left.length;
    const done = await takeUpAll(ctx, firm, left);
    left = [...done.left];
    applied += done.applied;
  }
  await mark(ctx, firm, left);
  return applied;
}
