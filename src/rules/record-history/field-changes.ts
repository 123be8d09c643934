import type { RecordState } from '../../protocol/record.ts';
import { isSameJson } from '../../protocol/same-json.ts';

/** A field whose value differs from the state before; a member is missing where the field was, or is. */
export interface FieldChange {
  readonly field: string;
  readonly was?: unknown;
  readonly is?: unknown;
}

type Loose = Readonly<Record<string, unknown>>;

/** That a record was taken out of the count is told as a field of it. */
function told(state: RecordState | null): Loose {
  return state === null ? {} : { ...state.fields, ...(state.voided === null ? {} : { voided: state.voided }) };
}

/** What differs between two states of a record, by field; of a first state, everything that it gives. */
export function fieldChanges(before: RecordState | null, after: RecordState): FieldChange[] {
  const [was, is] = [told(before), told(after)];
  const fields = [...new Set([...Object.keys(was), ...Object.keys(is)])].sort();
  return fields.flatMap((field) => {
    const [old, now] = [was[field], is[field]];
    if (isSameJson(old ?? null, now ?? null)) return [];
    return [{ field, ...(old === undefined ? {} : { was: old }), ...(now === undefined ? {} : { is: now }) }];
  });
}
