import { endOfDecon } from './decon-by-clock.ts';
import type { DeconRecord, DeconStepRecord, UnitRecord } from './equipment-records.ts';
import { laterOf, type Moment, momentOf } from './moment.ts';

/** Whether a unit is clean by a decontamination, and in a sentence why or why not. */
export interface DeconStanding {
  readonly isClean: boolean;
  readonly sentence: string;
}

export interface DeconToJudge {
  readonly decon: DeconRecord;
  /** Its own, in any order. */
  readonly steps: readonly DeconStepRecord[];
  /** Missing where nothing is known of the unit. */
  readonly unit: UnitRecord | undefined;
  /** When the unit went into its next well, by a right clock. */
  readonly nextUse: string | undefined;
  /** The visit in which it was used last before. */
  readonly visitBefore: string | undefined;
}

/** Judges a record of decontamination by its protocol. */
export type JudgeDecon = (given: DeconToJudge) => DeconStanding;

/** A decontamination in time, with what its protocol says of it. */
export interface DeconSpan {
  readonly record: DeconRecord;
  readonly steps: readonly DeconStepRecord[];
  readonly began: Moment;
  /** Its end; where none is recorded, its last step. */
  readonly until: Moment;
  readonly standing: DeconStanding;
}

function endOf(record: DeconRecord, steps: readonly DeconStepRecord[], began: Moment): Moment {
  const last =
    endOfDecon(record, began) ??
    steps.map((step) => momentOf(step, step.fields.observed.at, step.fields.observed)).reduce(laterOf, began);
  return last.ms < began.ms ? began : last;
}

export interface DeconSpanGiven extends Omit<DeconToJudge, 'nextUse' | 'visitBefore'> {
  readonly usesAround: (began: Moment) => Pick<DeconToJudge, 'nextUse' | 'visitBefore'>;
  readonly judge: JudgeDecon;
}

export function deconSpan({ decon, steps, unit, usesAround, judge }: DeconSpanGiven): DeconSpan {
  const began = momentOf(decon, decon.fields.began, decon.fields.observed);
  return {
    record: decon,
    steps,
    began,
    until: endOf(decon, steps, began),
    standing: judge({ decon, steps, unit, ...usesAround(began) }),
  };
}
