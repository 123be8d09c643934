import type { FieldsOf } from '../../protocol/kind.ts';
import type { conflict } from '../../protocol/kinds/conflict.ts';
import type { signOut } from '../../protocol/kinds/sign-out.ts';
import type { wellClaim } from '../../protocol/kinds/well-claim.ts';
import type { RecordState } from '../../protocol/record.ts';

export type WellClaim = RecordState<FieldsOf<typeof wellClaim>>;
export type SignOut = RecordState<FieldsOf<typeof signOut>>;
export type ConflictFields = FieldsOf<typeof conflict>;

/** What any claim has: a crew takes something from one time to another, or with no end yet. */
export interface Claim {
  readonly id: string;
  readonly rev: number;
  readonly by: string | null;
  readonly client: string | null;
  readonly mutation: number | null;
  readonly voided: RecordState['voided'];
  readonly clock: RecordState['clock'];
  readonly fields: Pick<SignOut['fields'], 'crew' | 'from' | 'until' | 'observed'>;
}

/** Two claims that cannot both be: a conflict for a person, and nothing is taken away from either. */
export interface ClaimClash {
  /** The same for the same two claims, whatever the order in which they came. */
  readonly key: string;
  readonly fields: ConflictFields;
}

/** Names by record id (crews, wells, units) for the sentences; a record without one is called by its id. */
export type Names = ReadonlyMap<string, string>;

export function nameOf(names: Names, id: string): string {
  return names.get(id) ?? id;
}
