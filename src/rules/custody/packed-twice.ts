import type { FieldsOf } from '../../protocol/kind.ts';
import type { conflict } from '../../protocol/kinds/conflict.ts';
import type { RecordState } from '../../protocol/record.ts';
import { byIdIn } from '../samples/by-id.ts';
import type { EventSamples } from '../samples/event-samples.ts';

export type ConflictRecord = RecordState<FieldsOf<typeof conflict>>;

/** A container that two people packed in two coolers without knowing of each other. */
export interface PackedTwice {
  readonly container: string;
  readonly label: string;
  /** The one that is shown first; a cooler is null where it was taken out of every one. */
  readonly claims: readonly { readonly cooler: string | null; readonly by: string | null }[];
}

/** Where nobody has decided yet between this cooler and another place. */
export function packedTwice(
  cooler: string,
  conflicts: readonly ConflictRecord[],
  { containers, coolers }: Pick<EventSamples, 'containers' | 'coolers'>,
  names: ReadonlyMap<string, string>,
): readonly PackedTwice[] {
  return conflicts.flatMap(({ fields }): PackedTwice[] => {
    const { subject, subjectKind, field, standing, shown, kept } = fields;
    if (subjectKind !== 'container' || field !== 'cooler' || standing !== 'open') return [];
    const rivals = [shown, ...kept];
    const container = byIdIn(containers, subject);
    if (!container || !rivals.some(({ value }) => value === cooler)) return [];
    const claims = rivals.map(({ value, by }) => ({
      cooler: typeof value === 'string' ? (byIdIn(coolers, value)?.fields.number ?? 'unknown') : null,
      by: (by != null && names.get(by)) || null,
    }));
    return [{ container: subject, label: container.fields.label, claims }];
  });
}
