import { isUnreadable } from '../protocol/read-mutation.ts';
import { faultOf } from '../store/fault.ts';
import { type NewerSetAside, newerSetAside } from '../store/read/newer-set-aside.ts';
import { inRead } from '../store/read/transaction.ts';
import { tryGroup, type WriteContext } from './apply.ts';
import { readLine } from './read-line.ts';

function isReadable({ raw, schemaVersion }: NewerSetAside): boolean {
  return !isUnreadable(readLine(raw.toString('utf8'), schemaVersion ?? undefined));
}

async function readable({ pool }: WriteContext, firm: string): Promise<string[]> {
  const kept = await inRead(pool, firm, newerSetAside);
  return kept.filter(isReadable).map(({ id }) => id);
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

/**
 * Applies what newer phones had written before this server was brought up to date, in the names of its authors and
 * with what they had in view, and with it what waited for that. What still cannot be read, or is decided otherwise,
 * goes on waiting. Run at every start; where there is nothing it asks the database once.
 *
 * @returns how many were applied
 */
export async function takeUp(ctx: WriteContext, firm: string): Promise<number> {
  let left = await readable(ctx, firm);
  const all = left.length;
  // one may need what another brings, which came later
  for (let before = Number.POSITIVE_INFINITY; left.length > 0 && left.length < before; ) {
    before = left.length;
    for (const id of left) await takeUpOne(ctx, firm, id);
    left = await readable(ctx, firm);
  }
  return all - left.length;
}
