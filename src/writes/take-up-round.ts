import { type Lap, type Laps, newLap } from './take-up-laps.ts';
import type { WriteContext } from './try-group.ts';

export interface TakeUpContext extends WriteContext {
  /** How far the rounds before came. Without it, one round goes through all, however long it takes. */
  readonly laps?: Laps;
  /** How long the long tries of a round may take together before it ends, where there are laps. */
  readonly roundMs?: number;
}

/** So many lines may overrun their time in a round before it ends: each has the lock of the firm until then. */
const OVERRUNS_A_ROUND = 2;

/** About two lines that overrun. */
const ROUND_MS = 30_000;

/** Shorter tries let pushes have the lock between them as pushes let each other, and do not count. */
const LONG_MS = 1000;

/** A round through the lines of a firm, or the part of it that its time allows. */
export interface Round {
  readonly ctx: TakeUpContext;
  readonly firm: string;
  readonly lap: Lap;
  overruns: number;
  /** Of tries that were long. */
  longMs: number;
}

export function newRound(ctx: TakeUpContext, firm: string): Round {
  return { ctx, firm, lap: ctx.laps?.of(firm) ?? newLap(), overruns: 0, longMs: 0 };
}

export function isOver({ ctx, overruns, longMs }: Round): boolean {
  return ctx.laps !== undefined && (overruns >= OVERRUNS_A_ROUND || longMs >= (ctx.roundMs ?? ROUND_MS));
}

/** Notes how long a try took, however it ended. */
export async function timed<Result>(round: Round, work: () => Promise<Result>): Promise<Result> {
  const began = round.ctx.now().getTime();
  try {
    return await work();
  } finally {
    const took = round.ctx.now().getTime() - began;
    if (took >= LONG_MS) round.longMs += took;
  }
}
