import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { fieldConflictId } from '../derive/field-conflicts.ts';
import { derivedId } from '../derived-id.ts';
import { VOIDED } from '../merge/merge-memory.ts';

interface Named {
  readonly id: string;
  readonly kind: string;
}

/** The fields that changes of each record ever gave, by its id: of a newer version, there are some that no kind names. */
export type ChangedFields = ReadonlyMap<string, readonly string[]>;

/** The conflicts that a record can have had: also those that nobody is told of any more have their rows in the ledger. */
export function conflictsAbout(firm: string, { id, kind }: Named, changed: ChangedFields): string[] {
  const fields = new Set([...Object.keys(kindNamed(kind)?.fields.shape ?? {}), ...(changed.get(id) ?? []), VOIDED]);
  return [...fields].map((field) => fieldConflictId(firm, id, field));
}

/** What people recorded, among what belongs to a visit. */
export function recordedOnly(records: readonly Named[]): readonly Named[] {
  return records.filter(({ kind }) => kindNamed(kind)?.family !== 'derived');
}

/** Everything but flags that can have been derived from the records of a visit. */
export function derivedOfVisit(firm: string, records: readonly Named[], changed: ChangedFields): string[] {
  return recordedOnly(records).flatMap((record) => {
    const { id, kind } = record;
    const own = kind === 'purge' ? ['assessment'] : kind === 'visit' ? ['visit-summary'] : [];
    return [...conflictsAbout(firm, record, changed), ...own.map((name) => derivedId(firm, name, id))];
  });
}
