import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { fieldConflictId } from '../derive/field-conflicts.ts';
import { flagId } from '../derive/flag-derived.ts';
import { derivedId } from '../derived-id.ts';
import { FLAG_RULES } from '../flags/flag-rules.ts';
import { VOIDED } from '../merge/merge-memory.ts';

interface Named {
  readonly id: string;
  readonly kind: string;
}

/** The conflicts that a record can have had: also those that nobody is told of any more have their rows in the ledger. */
export function conflictsAbout(firm: string, { id, kind }: Named): string[] {
  const fields = Object.keys(kindNamed(kind)?.fields.shape ?? {});
  return [...fields, VOIDED].map((field) => fieldConflictId(firm, id, field));
}

/** Everything that can have been derived from the records of a visit. */
export function derivedOfVisit(firm: string, records: readonly Named[]): string[] {
  const recorded = records.filter(({ kind }) => kindNamed(kind)?.family !== 'derived');
  return recorded.flatMap((record) => {
    const { id, kind } = record;
    const flags = FLAG_RULES.map(({ code }) => flagId(firm, code, id));
    const own = kind === 'purge' ? ['assessment'] : kind === 'visit' ? ['visit-summary'] : [];
    return [...conflictsAbout(firm, record), ...flags, ...own.map((name) => derivedId(firm, name, id))];
  });
}
