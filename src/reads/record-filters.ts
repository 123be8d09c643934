import type { KindDefinition } from '../protocol/kind.ts';
import { kindNamed } from '../protocol/kinds-by-name.ts';
import { TYPED_TABLES } from '../store/tables.ts';

/** The kind of feed that records of a kind live in; null where they live wherever the record does that they are about. */
export function feedOfKind(kind: KindDefinition): 'firm' | 'site' | 'event' | null {
  if (kind.home.in === 'firm') return 'firm';
  if (kind.home.in === 'own') return kind.home.prefix;
  const parent = kindNamed(kind.references[kind.home.field] ?? '');
  return parent ? feedOfKind(parent) : null;
}

/** The fields of a kind that name another record: a list can be asked for those that name one. */
export function namingFields(kind: KindDefinition): string[] {
  const columns = TYPED_TABLES[kind.name]?.fields ?? {};
  return Object.keys(columns).filter((field) => columns[field] === 'uuid');
}

/** Whether `event=ID` means the feed of the event, because the records do not name the event themselves. */
export function isFoundByEventFeed(kind: KindDefinition): boolean {
  const feed = feedOfKind(kind);
  return kind.name !== 'event' && (feed === 'event' || feed === null) && !namingFields(kind).includes('event');
}
