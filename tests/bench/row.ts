import { median } from './statistics.ts';

/** What one round of a row found: both sides in the same unit. */
export interface Round {
  readonly own: number;
  readonly other: number;
}

/** One line of the table: what was measured against what, in rounds in which both sides ran one after the other. */
export interface Row {
  readonly name: string;
  readonly against: string;
  readonly unit: string;
  /** rate: more is better, the ratio is own / other; time: less is better, so is the ratio; absolute: no other side. */
  readonly measure: 'rate' | 'time' | 'absolute';
  readonly target: number;
  readonly rounds: readonly Round[];
  /** Why there is nothing to measure yet. */
  readonly absent?: string;
}

export interface Summary {
  readonly name: string;
  readonly against: string;
  readonly unit: string;
  readonly own: number | null;
  readonly other: number | null;
  readonly reached: number | null;
  readonly target: string;
  readonly met: boolean | null;
  /** The least and the most of all rounds. */
  readonly spread: readonly [number, number] | null;
  readonly rounds: readonly Round[];
  readonly absent: string | null;
}

function reachedIn(row: Row, round: Round): number {
  return row.measure === 'absolute' ? round.own : round.own / round.other;
}

export function summarize(row: Row): Summary {
  const { name, against, unit, rounds } = row;
  const target = `${row.measure === 'rate' ? '>=' : '<='} ${row.target}`;
  const empty = { own: null, other: null, reached: null, met: null, spread: null };
  const common = { name, against, unit, target, rounds, absent: row.absent ?? null };
  if (rounds.length === 0) return { ...common, ...empty };
  const ratios = rounds.map((round) => reachedIn(row, round));
  const reached = median(ratios);
  const own = median(rounds.map((round) => round.own));
  const other = row.measure === 'absolute' ? null : median(rounds.map((round) => round.other));
  const met = row.measure === 'rate' ? reached >= row.target : reached <= row.target;
  return { ...common, own, other, reached, met, spread: [Math.min(...ratios), Math.max(...ratios)] };
}
