import { isUnreadable } from '../protocol/read-mutation.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import { faultOf } from '../store/fault.ts';
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

/** Whether the database took it, with what it says where that is no refusal. */
async function tried(ctx: WriteContext, firm: string, id: string, takesWaiting: boolean): Promise<boolean> {
  try {
    await tryGroup(ctx, firm, [], { takesWaiting, takesUp: [id] });
    return true;
  } catch (error) {
    if (faultOf(error) !== 'refused') throw error;
    return false;
  }
}

/**
 * In a transaction of its own: one that the database refuses stays where it is and stops no other. What waited for it
 * may be what is refused, and then goes on waiting.
 */
async function takeUpOne(ctx: WriteContext, firm: string, id: string): Promise<void> {
  if (!(await tried(ctx, firm, id, true))) await tried(ctx, firm, id, false);
}

/** @returns those that were not applied */
async function takeUpAll(ctx: WriteContext, firm: string, ids: readonly string[]): Promise<string[]> {
  for (const id of ids) await takeUpOne(ctx, firm, id);
  return ids.length === 0 ? [] : inRead(ctx.pool, firm, (tx) => notReleased(tx, ids));
}

async function mark(ctx: WriteContext, firm: string, ids: readonly string[]): Promise<void> {
  if (ids.length > 0) await inWrite(ctx.pool, firm, (tx) => markTried(tx, ids, SCHEMA_VERSION));
}

/** Each once, a part at a time. @returns how many were applied, and the ids of those that can be read and were not */
async function firstRound(ctx: WriteContext, firm: string): Promise<{ applied: number; left: string[] }> {
  const left: string[] = [];
  let applied = 0;
  let after: NewerSetAside | null = null;
  for (;;) {
    const asked = { version: SCHEMA_VERSION, after, limit: LINES_A_PART };
    const part: NewerSetAside[] = await inRead(ctx.pool, firm, (tx) => newerSetAside(tx, asked));
    const readable = part.filter(isReadable).map(({ id }) => id);
    const unreadable = part.map(({ id }) => id).filter((id) => !readable.includes(id));
    const still = await takeUpAll(ctx, firm, readable);
    applied += readable.length - still.length;
    left.push(...still);
    await mark(ctx, firm, unreadable);
    if (part.length < LINES_A_PART) return { applied, left };
    after = part.at(-1) ?? null;
  }
}

/**
 * Applies what newer phones had written before this server was brought up to date, in the names of its authors and
 * with what they had in view, and with it what waited for that. What still cannot be read, or is decided otherwise,
 * goes on waiting, and is not tried again by servers of this version. Run at every start and every hour; where there
 * is nothing it asks the database once.
 *
 * @returns how many were applied
 */
export async function takeUp(ctx: WriteContext, firm: string): Promise<number> {
  const first = await firstRound(ctx, firm);
  let [applied, left] = [first.applied, first.left];
  // one may need what another brings, which came later
  for (let before = Number.POSITIVE_INFINITY; left.length > 0 && left.length < before; ) {
    before = left.length;
    left = await takeUpAll(ctx, firm, left);
    applied += before - left.length;
  }
  await mark(ctx, firm, left);
  return applied;
}
