import type { Side } from './meter.ts';
import { median } from './statistics.ts';

/** What one round of a row found: both sides in the same unit. */
export interface Round {
  readonly own: number;
  readonly other: number;
  /** Microseconds of processor for one operation, in all processes of a side together. */
  readonly processorUs?: { readonly own: number; readonly other: number };
}

export function roundOf(own: Side, other: Side): Round {
  return {
    own: own.rate,
    other: other.rate,
    processorUs: { own: own.processorUs, other: other.processorUs },
  };
}

/** One line of the table: what was measured against what, in rounds in which both sides ran one after the other. */
export interface Row {
  readonly name: string;
  readonly against: string;
  readonly unit: string;
  /** rate: more is better, the ratio is own / other; time: less is better, so is the ratio; absolute: no other side. */
  readonly measure: 'rate' | 'time' | 'absolute';
  /** Null where the row is told for what it is, and nothing is promised. */
  readonly target: number | null;
  /** What is hoped for beyond the target. */
  readonly stretch?: number;
  readonly rounds: readonly Round[];
  /** Why there is nothing to measure yet. */
  readonly absent?: string;
  /** Where the time goes, and what else was seen: told below the table. */
  readonly notes?: readonly string[];
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
  /** Medians of what one operation took of the processors. */
  readonly processorUs: { readonly own: number; readonly other: number } | null;
  readonly rounds: readonly Round[];
  readonly absent: string | null;
  readonly notes: readonly string[];
}

function processorOf(rounds: readonly Round[]): Summary['processorUs'] {
  const known = rounds.flatMap((round) => round.processorUs ?? []);
  if (known.length === 0) return null;
  return { own: median(known.map((one) => one.own)), other: median(known.map((one) => one.other)) };
}

function reachedIn(row: Row, round: Round): number {
  return row.measure === 'absolute' ? round.own : round.own / round.other;
}

function targetOf({ measure, target, stretch }: Row): string {
  if (target === null) return 'none';
  const least = `${measure === 'rate' ? '>=' : '<='} ${target}`;
  return stretch === undefined ? least : `${least} (stretch ${stretch})`;
}

function isMet({ measure, target }: Row, reached: number): boolean | null {
  if (target === null) return null;
  return measure === 'rate' ? reached >= target : reached <= target;
}

export function summarize(row: Row): Summary {
  const { name, against, unit, rounds } = row;
  const target = targetOf(row);
  const empty = { processorUs: null, own: null, other: null, reached: null, met: null, spread: null };
  const common = { name, against, unit, target, rounds, absent: row.absent ?? null, notes: row.notes ?? [] };
  if (rounds.length === 0) return { ...common, ...empty };
  const ratios = rounds.map((round) => reachedIn(row, round));
  const reached = median(ratios);
  const own = median(rounds.map((round) => round.own));
  const other = row.measure === 'absolute' ? null : median(rounds.map((round) => round.other));
  const met = isMet(row, reached);
  const spread = [Math.min(...ratios), Math.max(...ratios)] as const;
  return { ...common, own, other, reached, met, spread, processorUs: processorOf(rounds) };
}
