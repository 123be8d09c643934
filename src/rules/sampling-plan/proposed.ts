import type { FieldsOf } from '../../protocol/kind.ts';
import type { plannedSample } from '../../protocol/kinds/planned-sample.ts';
import type { Bottle } from './wanted-bottles.ts';

export type PlannedFields = FieldsOf<typeof plannedSample>;
export type PlannedType = PlannedFields['type'];
export type Fields = Readonly<Record<string, unknown>>;

/** What the plan of an event asks for, whether it is there or not. */
export interface Wanted {
  readonly id: string;
  readonly type: PlannedType;
  readonly well: string | null;
  readonly of: string | null;
  readonly crew: string | null;
  readonly laboratory: string | null;
  readonly suites: readonly string[];
  /** Missing where a remark is nothing of the plan's. */
  readonly remark?: string;
  readonly bottles: readonly Bottle[];
}

export const CHANGES = ['new', 'changed', 'taken-up', 'kept', 'dropped'] as const;
/** What a plan does to what is there: taken up is what an earlier plan had dropped. */
export type Change = (typeof CHANGES)[number];

export interface ProposedContainer {
  readonly id: string;
  /** Null of a new one: it is made of a number that is drawn when the plan is written. */
  readonly label: string | null;
  readonly group: string;
  readonly alsoGroups: readonly string[];
  readonly suite: string | null;
  readonly type: 'vial' | 'bottle';
  readonly material: string | null;
  readonly colour: string | null;
  /** Null where it is not known. */
  readonly preservatives: readonly string[] | null;
  readonly volumeMl: string;
  readonly laboratory: string | null;
  readonly standing: 'expected' | 'filled' | 'discarded' | 'dropped';
  readonly change: Change;
  /** Of the record; null of a new one. */
  readonly rev: number | null;
  /** Fields to write; null where nothing changes. */
  readonly set: Fields | null;
}

export interface ProposedSample {
  readonly id: string;
  readonly number: string | null;
  readonly type: PlannedType;
  readonly well: string | null;
  readonly of: string | null;
  readonly crew: string | null;
  readonly laboratory: string | null;
  readonly suites: readonly string[];
  readonly standing: 'planned' | 'dropped';
  readonly droppedBecause: string | null;
  readonly remark: string | null;
  /** Water of it was taken: it stays as it is. */
  readonly isTaken: boolean;
  /** Not made by a plan. */
  readonly isOfPerson: boolean;
  readonly change: Change;
  readonly rev: number | null;
  readonly set: Fields | null;
  readonly containers: readonly ProposedContainer[];
}
