import type { EventSamples } from '../samples/event-samples.ts';
import type { LastResult } from '../well-order/well-level.ts';
import type { VisitSummary } from '../well-rounds/well-records.ts';

/** A shared pump whose inside the sample passes, and which crew has it when: what a rinsate is taken through. */
export interface PumpOfCrew {
  readonly unit: string;
  readonly label: string;
  /** "bladder-pump" */
  readonly type: string;
  readonly crew: string;
  /** Calendar days. */
  readonly from: string;
  /** Null while it is out. */
  readonly until: string | null;
}

/** A pump was in a well of the event: a day of its use. */
export interface PumpDay {
  readonly unit: string;
  readonly label: string;
  readonly day: string;
}

/** What a plan is made from: the records of the event, and what earlier rounds say of its wells. */
export interface PlanningFacts {
  readonly firm: string;
  readonly samples: EventSamples;
  /** Of all planned samples, samples and blanks there ever were in the event, voided ones too. */
  readonly numbersGiven: ReadonlySet<string>;
  /** Of all containers, voided ones too. */
  readonly labelsGiven: ReadonlySet<string>;
  /** Ids of voided planned samples and containers: what a person took out is not brought back under its id. */
  readonly voided: ReadonlySet<string>;
  /** Of each well, of each analyte the last result from before the event. */
  readonly lastResults: ReadonlyMap<string, readonly LastResult[]>;
  /** Of each well, what earlier visits gave, the newest first. */
  readonly summaries: ReadonlyMap<string, readonly VisitSummary[]>;
  readonly pumps: readonly PumpOfCrew[];
  readonly pumpDays: readonly PumpDay[];
}
