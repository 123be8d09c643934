import { range } from './seed-report.ts';

/** What a long run is asked for: worlds of both halves together, from a seed on, for so many minutes at most. */
export interface Asked {
  readonly from: number;
  readonly worlds: number;
  readonly minutes: number;
}

/** What one of its halves, every second seed, came to. */
export interface Half {
  readonly half: number;
  readonly played: number;
}

/** Beyond every seed that the short run plays; for as long as people wait, though a million takes two cores for hours. */
const DEFAULTS: Asked = { from: 1_000_000, worlds: 1_000_000, minutes: 8 };

export function askedBy({ SIM_FROM, SIM_WORLDS, SIM_MINUTES }: NodeJS.ProcessEnv): Asked {
  const { from, worlds, minutes } = DEFAULTS;
  return {
    from: Number(SIM_FROM ?? from),
    worlds: Number(SIM_WORLDS ?? worlds),
    minutes: Number(SIM_MINUTES ?? minutes),
  };
}

export function worldsOfHalf({ worlds }: Asked): number {
  return Math.ceil(worlds / 2);
}

/** The next seeds of a half that has played some. */
export function seedsOfHalf({ from }: Asked, { half, played }: Half, count: number): Generator<number> {
  return range(from + half + 2 * played, count, 2);
}

/** The seed from which on a further run leaves none out; what the quicker half has beyond it is played again. */
function goesOnFrom({ from }: Asked, halves: readonly Half[]): number {
  return from + 2 * Math.min(...halves.map(({ played }) => played));
}

/** How much was played of what was asked, why it ended, and how to go on behind it. */
export function sayPlayed(asked: Asked, halves: readonly Half[]): string {
  const { from, worlds, minutes } = asked;
  const played = halves.reduce((sum, one) => sum + one.played, 0);
  const next = goesOnFrom(asked, halves);
  const [of, seeds] = halves.length > 1 ? [worlds, 'every seed'] : [worldsOfHalf(asked), 'every second seed'];
  const isWhole = halves.every((one) => one.played >= worldsOfHalf(asked));
  const why = isWhole ? 'all of them' : `ended because SIM_MINUTES=${minutes} were over`;
  const left = isWhole ? worlds : worlds - (next - from);
  return `${played} of ${of} worlds were played, ${why}: ${seeds} from ${from} to ${next - 1}; go on with SIM_FROM=${next} SIM_WORLDS=${left}`;
}
