import type { KindDefinition } from '../../protocol/kind.ts';
import type { Fields } from '../../protocol/read-mutation.ts';
import type { World } from '../held.ts';

export interface Place {
  readonly feed: string;
  readonly parent: string | null;
  readonly visit: string | null;
}

/** Where a record of this kind with these fields lives; its parent is known to be here. */
export function placeOf(kind: KindDefinition, id: string, fields: Fields, world: World): Place {
  const { home } = kind;
  if (home.in === 'firm') return { feed: 'firm', parent: null, visit: null };
  if (home.in === 'own') return { feed: `${home.prefix}:${id}`, parent: null, visit: null };
  const parent = world.get(String(fields[home.field]));
  if (!parent) throw new Error(`the parent of ${kind.name} ${id} was not loaded: ${String(fields[home.field])}`);
  return { feed: parent.feed, parent: parent.state.id, visit: visitOf(kind, id, fields) ?? parent.visit };
}

function visitOf(kind: KindDefinition, id: string, fields: Fields): string | undefined {
  if (kind.name === 'visit') return id;
  return kind.home.in === 'parent' && kind.home.visit !== undefined ? String(fields[kind.home.visit]) : undefined;
}
