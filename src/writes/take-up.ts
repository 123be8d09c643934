import { isUnreadable } from '../protocol/read-mutation.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import { anyNewerSetAside, type NewerSetAside, newerSetAside, notReleased } from '../store/read/newer-set-aside.ts';
import { inRead } from '../store/read/transaction.ts';
import { markTried } from '../store/write/persist-receipts.ts';
import { inWrite } from '../store/write/transaction.ts';
import { readLine } from './read-line.ts';
import { takeCompanions, takeUpOne } from './take-up-line.ts';
import { isOver, newRound, type Round, type TakeUpContext } from './take-up-round.ts';

/** So many lines are in the memory at once; one may have 64 KB. */
const LINES_A_PART = 50;

/** Null for a line on which the reading itself fails. */
function isReadable({ ctx }: Round, { id, raw, schemaVersion }: NewerSetAside): boolean | null {
  try {
    return !isUnreadable(readLine(raw.toString('utf8'), schemaVersion ?? undefined));
  } catch (error) {
    ctx.failed?.(id, error);
    return null;
  }
}

/** What became of lines that were tried. */
interface TakenUp {
  readonly applied: number;
  /** Decided otherwise, or refused. */
  readonly left: readonly string[];
  /** How many were tried: all of them, unless the round is over. */
  readonly tried: number;
}

/** Of lines that were tried, those that wait still though they did not fail. */
async function leftOf({ ctx, firm, lap }: Round, ids: readonly string[]): Promise<string[]> {
  const sound = ids.filter((id) => !lap.failed.has(id));
  return sound.length === 0 ? [] : inRead(ctx.pool, firm, (tx) => notReleased(tx, sound));
}

async function takeUpAll(round: Round, ids: readonly string[]): Promise<TakenUp> {
  let tried = 0;
  for (const id of ids) {
    if (isOver(round)) break;
    tried += 1;
    await takeUpOne(round, id);
    await takeCompanions(round);
  }
  const done = ids.slice(0, tried);
  const left = await leftOf(round, done);
  const failed = done.filter((id) => round.lap.failed.has(id));
  return { applied: tried - failed.length - left.length, left, tried };
}

async function mark({ ctx, firm }: Round, ids: readonly string[]): Promise<void> {
  if (ids.length > 0) await inWrite(ctx.pool, firm, (tx) => markTried(tx, ids, SCHEMA_VERSION));
}

/** At the end of a lap that began somewhere: goes on with the first line. @returns whether it does */
function goesOn({ lap }: Round): boolean {
  if (!lap.wraps) return false;
  lap.wraps = false;
  lap.after = null;
  return true;
}

/** @returns how many were applied, and whether there may be more behind them */
async function takeUpPart(round: Round): Promise<{ applied: number; more: boolean }> {
  const { ctx, firm, lap } = round;
  const asked = { version: SCHEMA_VERSION, after: lap.after, limit: LINES_A_PART };
  const part = await inRead(ctx.pool, firm, (tx) => newerSetAside(tx, asked));
  const looked = part.map((line) => ({ id: line.id, isReadable: isReadable(round, line) }));
  const readable = looked.filter((line) => line.isReadable === true);
  const unreadable = looked.filter((line) => line.isReadable === false);
  // a round that ended in the midst of a part left it to the next, which goes on with what was not tried
  const due = readable.map(({ id }) => id).filter((id) => !lap.tried.has(id));
  const { applied, tried } = await takeUpAll(round, due);
  const isWhole = tried === due.length;
  if (isWhole) lap.after = part.at(-1) ?? lap.after;
  await mark(
    round,
    unreadable.map(({ id }) => id),
  );
  return { applied, more: !isWhole || part.length === LINES_A_PART || goesOn(round) };
}

/**
 * Those that were left, again, as one may need what another brings, which came later. They count as tried by this version
 * then, unless the round was over before.
 */
async function takeUpLeft(round: Round): Promise<number> {
  let left: readonly string[] = await leftOf(round, [...round.lap.tried]);
  let applied = 0;
  for (let before = Number.POSITIVE_INFINITY; left.length > 0 && left.length < before; ) {
    before = left.length;
    const done = await takeUpAll(round, left);
    applied += done.applied;
    if (done.tried < left.length) return applied;
    left = done.left;
  }
  await mark(round, left);
  return applied;
}

/** Where the lap is to begin somewhere, it does. @returns whether anything waits, where that was asked */
async function begun({ ctx, firm, lap }: Round): Promise<boolean> {
  if (lap.beginsBy === null) return true;
  const asked = { version: SCHEMA_VERSION, chance: lap.beginsBy() };
  const place = await inRead(ctx.pool, firm, (tx) => anyNewerSetAside(tx, asked));
  if (place === null) return false;
  Object.assign(lap, { after: place, beginsBy: null, wraps: true });
  return true;
}

/**
 * Applies what newer phones had written before this server was brought up to date and what a server failed on, in the
 * names of the authors and with what they had in view, and with it what waited for that. What still cannot be read, or
 * is decided otherwise, goes on waiting, and is not tried again by servers of this version; what failed by a fault of
 * ours is. Run at every start and every hour; where there is nothing it asks the database once.
 *
 * @returns how many were applied, without what waited for them
 */
export async function takeUp(ctx: TakeUpContext, firm: string): Promise<number> {
  const round = newRound(ctx, firm);
  if (!(await begun(round))) return 0;
  await takeCompanions(round);
  let applied = 0;
  for (let more = true; more; ) {
    if (isOver(round)) return applied;
    const part = await takeUpPart(round);
    applied += part.applied;
    more = part.more;
  }
  if (isOver(round)) return applied;
  applied += await takeUpLeft(round);
  ctx.laps?.ended(firm, round.lap);
  return applied;
}
