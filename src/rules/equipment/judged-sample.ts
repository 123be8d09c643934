import type { ResultRecord } from './equipment-records.ts';

export const SAMPLE_STANDINGS = ['in-question', 'cannot-tell', 'cleared'] as const;
export type SampleStanding = (typeof SAMPLE_STANDINGS)[number];

/** Where a sample stands for one analyte, and why. */
export interface Judgement {
  readonly standing: SampleStanding;
  readonly sentence: string;
}

/** Judges a result of a sample by one of a blank: the rule of the blank. */
export type JudgeByBlank = (sample: ResultRecord['fields'], blank: ResultRecord['fields']) => Judgement;

/** One reason to ask is enough; what cannot be told keeps it from being cleared. Undefined without any. */
export function gravest<Item extends Judgement>(judgements: readonly Item[]): Item | undefined {
  return judgements.toSorted(
    (a, b) =>
      SAMPLE_STANDINGS.indexOf(a.standing) - SAMPLE_STANDINGS.indexOf(b.standing) ||
      (a.sentence < b.sentence ? -1 : a.sentence > b.sentence ? 1 : 0),
  )[0];
}

export interface StandingCounts {
  readonly inQuestion: number;
  readonly cannotTell: number;
  readonly cleared: number;
}

export function countStandings(judgements: readonly Judgement[]): StandingCounts {
  const count = (standing: SampleStanding) => judgements.filter((one) => one.standing === standing).length;
  return { inQuestion: count('in-question'), cannotTell: count('cannot-tell'), cleared: count('cleared') };
}
