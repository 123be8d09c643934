import { isUnreadable } from '../protocol/read-mutation.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import { faultOf, isOverrun } from '../store/fault.ts';
import { type NewerSetAside, newerSetAside, notReleased } from '../store/read/newer-set-aside.ts';
import { inRead } from '../store/read/transaction.ts';
import { markTried } from '../store/write/persist-receipts.ts';
import { inWrite } from '../store/write/transaction.ts';
import { tryGroup, type WriteContext } from './apply.ts';
import { readLine } from './read-line.ts';
import { type Lap, type Laps, newLap } from './take-up-laps.ts';

/** So many lines are in the memory at once; one may have 64 KB. */
const LINES_A_PART = 50;

function isReadable({ raw, schemaVersion }: NewerSetAside): boolean {
  return !isUnreadable(readLine(raw.toString('utf8'), schemaVersion ?? undefined));
}

/** So many lines may overrun their time in a round before it ends: each has the lock of the firm until then. */
const OVERRUNS_A_ROUND = 2;

export interface TakeUpContext extends WriteContext {
  /** Told of a line that failed by a fault of ours or took too long: it stays where it is, and is tried again. */
  readonly failed?: (setAside: string, error: unknown) => void;
  /** How far the rounds before came. Without it, one round goes through all, however many overrun. */
  readonly laps?: Laps;
}

/** A round through the lines of a firm, or the part of it that its time allows. */
interface Round {
  readonly ctx: TakeUpContext;
  readonly firm: string;
  readonly lap: Lap;
  overruns: number;
}

function isOver({ ctx, overruns }: Round): boolean {
  return ctx.laps !== undefined && overruns >= OVERRUNS_A_ROUND;
}

/** How a try ended; what is no word of the database about the line is the error. */
type Try = 'taken' | 'refused' | { readonly error: unknown };

/** A database that is away concerns all lines alike, and is thrown; what one line alone asks too much of does not. */
async function tried({ ctx, firm }: Round, id: string, takesWaiting: boolean): Promise<Try> {
  try {
    await tryGroup(ctx, firm, [], { takesWaiting, takesUp: [id] });
    return 'taken';
  } catch (error) {
    const fault = faultOf(error);
    if (fault === 'transient' && !isOverrun(error)) throw error;
    return fault === 'refused' ? 'refused' : { error };
  }
}

function overran(tried: Try): boolean {
  return typeof tried === 'object' && isOverrun(tried.error);
}

/**
 * What waited for a line may be the cause, and then goes on waiting. A line that overran its time is not tried again in
 * this round: without what waits for it, it is in the next lap.
 */
async function lastTry(round: Round, id: string): Promise<Try> {
  const takesWaiting = !round.lap.alone.has(id);
  const first = await tried(round, id, takesWaiting);
  if (takesWaiting && overran(first)) round.lap.overran.add(id);
  return first === 'taken' || overran(first) || !takesWaiting ? first : tried(round, id, false);
}

/**
 * In a transaction of its own: one that the database refuses, or that fails by itself, stays where it is and stops no
 * other.
 *
 * @returns whether it failed
 */
async function takeUpOne(round: Round, id: string): Promise<boolean> {
  const last = await lastTry(round, id);
  if (typeof last === 'string') return false;
  if (overran(last)) round.overruns += 1;
  round.ctx.failed?.(id, last.error);
  return true;
}

/** What became of lines that were tried: those that still wait are one or the other. */
interface TakenUp {
  readonly applied: number;
  /** Decided otherwise, or refused. */
  readonly left: readonly string[];
  /** How many were tried: all of them, unless the round is over. */
  readonly tried: number;
}

async function takeUpAll(round: Round, ids: readonly string[]): Promise<TakenUp> {
  const failed = new Set<string>();
  let count = 0;
  for (const id of ids) {
    if (isOver(round)) break;
    count += 1;
    if (await takeUpOne(round, id)) failed.add(id);
  }
  const done = ids.slice(0, count);
  if (count === 0) return { applied: 0, left: [], tried: 0 };
  const still = await inRead(round.ctx.pool, round.firm, (tx) => notReleased(tx, done));
  return { applied: count - still.length, left: still.filter((id) => !failed.has(id)), tried: count };
}

async function mark({ ctx, firm }: Round, ids: readonly string[]): Promise<void> {
  if (ids.length > 0) await inWrite(ctx.pool, firm, (tx) => markTried(tx, ids, SCHEMA_VERSION));
}

/** @returns how many were applied, and whether there may be more behind them */
async function takeUpPart(round: Round): Promise<{ applied: number; more: boolean }> {
  const { ctx, firm, lap } = round;
  const asked = { version: SCHEMA_VERSION, after: lap.after, limit: LINES_A_PART };
  const part = await inRead(ctx.pool, firm, (tx) => newerSetAside(tx, asked));
  const readable = part.filter(isReadable);
  const unreadable = part.filter((line) => !readable.includes(line));
  const { applied, left, tried } = await takeUpAll(
    round,
    readable.map(({ id }) => id),
  );
  lap.left.push(...left);
  const isWhole = tried === readable.length;
  lap.after = (isWhole ? part.at(-1) : readable[tried - 1]) ?? lap.after;
  await mark(
    round,
    unreadable.map(({ id }) => id),
  );
  return { applied, more: !isWhole || part.length === LINES_A_PART };
}

/**
 * Those that were left, again, as one may need what another brings, which came later. They count as tried by this version
 * then, unless the round was over before.
 */
async function takeUpLeft(round: Round): Promise<number> {
  let left: readonly string[] = round.lap.left;
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

/**
 * Applies what newer phones had written before this server was brought up to date, in the names of its authors and
 * with what they had in view, and with it what waited for that. What still cannot be read, or is decided otherwise,
 * goes on waiting, and is not tried again by servers of this version; what failed by a fault of ours is. Run at every
 * start and every hour; where there is nothing it asks the database once.
 *
 * @returns how many were applied
 */
export async function takeUp(ctx: TakeUpContext, firm: string): Promise<number> {
  const lap = ctx.laps?.of(firm) ?? newLap();
  const round: Round = { ctx, firm, lap, overruns: 0 };
  let applied = 0;
  for (let more = true; more; ) {
    const part = await takeUpPart(round);
    applied += part.applied;
    if (isOver(round)) return applied;
    more = part.more;
  }
  applied += await takeUpLeft(round);
  ctx.laps?.ended(firm, lap);
  return applied;
}
