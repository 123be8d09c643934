import { z } from 'zod';
import { instant, id as uuid } from '../../protocol/primitives.ts';
import type { BlankStanding } from '../equipment/blank-standing.ts';
import type { PartStay } from '../equipment/part-stay.ts';

/** The id of a record of this kind; where records are told as records, it is one. */
export function recordId(kind: string) {
  return uuid.meta({ ...uuid.meta(), 'x-record': kind });
}

export function maybeRecordId(kind: string) {
  return recordId(kind).nullable();
}

/** As entered, with its offset. */
export const asEntered = instant.describe('As entered');
export const maybeEntered = instant.nullable();
export const count = z.int().min(0);

/** Which days are told of, and how much of each list. */
export const MOST_LISTED = 1_000;

export const BLANK_STANDINGS = ['clean', 'failed', 'traces', 'no-result'] as const satisfies readonly BlankStanding[];

export const PART_ENDS = ['removed', 'discarded', 'kept-for-well', 'replaced', 'moved-on'] as const satisfies readonly (
  | PartStay['endedBy']
  | null
)[];
