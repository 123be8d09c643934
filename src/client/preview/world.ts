import { kindNamed } from '../../protocol/kinds-by-name.ts';
import type { RecordState } from '../../protocol/record.ts';
import type { Held } from '../../rules/held.ts';
import { Overlay } from '../../rules/overlay.ts';
import type { StoredRecord } from '../store.ts';
import { memoryHere } from './memory.ts';
import type { VisitRecordsHere } from './records.ts';

function isConflict({ record }: StoredRecord): boolean {
  return record.kind === 'conflict';
}

/** The conflicts that were pulled, by the record that they are about. */
export function bySubject(rows: readonly StoredRecord[]): Map<string, RecordState[]> {
  const groups = new Map<string, RecordState[]>();
  for (const { record } of rows.filter(isConflict)) {
    const subject = String(record.fields.subject);
    groups.set(subject, [...(groups.get(subject) ?? []), record]);
  }
  return groups;
}

export function heldOf({ feed, record }: StoredRecord, visit: string | null, conflicts: readonly RecordState[]): Held {
  const home = kindNamed(record.kind)?.home;
  const parent = home?.in === 'parent' ? String(record.fields[home.field]) : null;
  const changed = record.rev > 1 && record.client !== null;
  return { state: record, feed, parent, visit, memory: changed ? memoryHere(record, conflicts) : null };
}

/** What this device has pulled, as the rules look at it. */
export function worldHere(visit: string, { ofVisit, besides, around }: VisitRecordsHere): Overlay {
  const world = new Overlay();
  const conflicts = bySubject([...ofVisit, ...besides]);
  for (const row of around) world.put(heldOf(row, null, []));
  for (const row of besides) world.put(heldOf(row, null, conflicts.get(row.record.id) ?? []));
  for (const row of ofVisit) world.put(heldOf(row, visit, conflicts.get(row.record.id) ?? []));
  return world;
}
