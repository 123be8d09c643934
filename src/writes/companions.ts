import { isUnreadable } from '../protocol/read-mutation.ts';
import { faultOf } from '../store/fault.ts';
import { setAsideById, waitingFor } from '../store/write/load-set-aside.ts';
import { inWrite, isOwnOverrun } from '../store/write/transaction.ts';
import type { Line } from './batch.ts';
import { halves } from './halves.ts';
import { preparedLine } from './prepared-line.ts';
import { tryGroup, type WriteContext } from './try-group.ts';
import { readWaiting } from './waiting.ts';

type Place = Pick<WriteContext, 'pool'> & { readonly firm: string };

/** What waits for the record that a line brings which was set aside. */
export function companionsOf({ pool, firm }: Place, id: string): Promise<string[]> {
  return inWrite(pool, firm, async (tx) => {
    const own = readWaiting(await setAsideById(tx, [id])).filter(({ read }) => read.mutation.verb === 'record');
    const records = own.map(({ read }) => read.mutation.id);
    return (await waitingFor(tx, records)).map((row) => row.id);
  });
}

/** What waits for the record that a line brings, or for that of the line that it releases. */
function companionsOfLine({ pool, firm }: Place, line: Line): Promise<string[]> {
  const { read } = preparedLine(line);
  if (isUnreadable(read)) return Promise.resolve([]);
  const { verb, id } = read.mutation;
  if (verb === 'release') return companionsOf({ pool, firm }, id);
  if (verb !== 'record') return Promise.resolve([]);
  return inWrite(pool, firm, async (tx) => (await waitingFor(tx, [id])).map((row) => row.id));
}

/** Whether they were decided; false where one of them, or what waits for it, is refused or failed on. */
async function areDecided(ctx: WriteContext, firm: string, takesUp: readonly string[], takesWaiting: boolean) {
  try {
    await tryGroup(ctx, firm, [], { takesUp, takesWaiting });
    return true;
  } catch (error) {
    if (faultOf(error) === 'transient' && !isOwnOverrun(error)) throw error;
    return false;
  }
}

async function takeUpAll(ctx: WriteContext, firm: string, ids: readonly string[]): Promise<void> {
  const [first, ...others] = ids;
  if (first === undefined || (await areDecided(ctx, firm, ids, true))) return;
  if (others.length > 0) {
    for (const half of halves(ids)) await takeUpAll(ctx, firm, half);
  } else if (await areDecided(ctx, firm, ids, false)) {
    await takeUpAll(ctx, firm, await companionsOf({ ...ctx, firm }, first));
  }
}

/**
 * Once a line is applied without what waited for its record: applies that as well, but for one that the database refuses
 * or code of ours fails on, which goes on waiting.
 */
export async function takeCompanionsOf(ctx: WriteContext, firm: string, line: Line): Promise<void> {
  await takeUpAll(ctx, firm, await companionsOfLine({ ...ctx, firm }, line));
}
