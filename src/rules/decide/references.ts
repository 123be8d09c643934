import { withArticle } from '../../protocol/field-words.ts';
import type { KindDefinition } from '../../protocol/kind.ts';
import type { Mutation } from '../../protocol/mutation.ts';
import { id } from '../../protocol/primitives.ts';
import type { Fields, ReadMutation } from '../../protocol/read-mutation.ts';
import type { World } from '../held.ts';
import { type NotTaken, setAside } from './decision.ts';

/** A record that must be here before the mutation can be applied, and the kind that it must be of (null: any). */
interface Need {
  readonly id: string;
  readonly kind: string | null;
  readonly field: string;
}

function observedNeeds(fields: Fields): Need[] {
  const seen = fields.observed as { readBy?: string; writtenBy?: string } | undefined | null;
  if (!seen) return [];
  return (['readBy', 'writtenBy'] as const).flatMap((part) => {
    const id = seen[part];
    return id === undefined ? [] : [{ id, kind: 'member', field: `observed/${part}` }];
  });
}

function fieldNeeds(kind: KindDefinition, fields: Fields): Need[] {
  const named = Object.entries(kind.references) as [string, string][];
  return named.flatMap(([field, target]) => {
    const id = fields[field];
    return typeof id === 'string' ? [{ id, kind: target, field }] : [];
  });
}

function parentNeed(kind: KindDefinition, fields: Fields): Need[] {
  if (kind.home.in !== 'parent' || kind.home.field in kind.references) return [];
  const id = fields[kind.home.field];
  return typeof id === 'string' ? [{ id, kind: null, field: kind.home.field }] : [];
}

function needs(read: ReadMutation): Need[] {
  const { mutation, kind, fields } = read;
  const person = mutation.by === undefined ? [] : [{ id: mutation.by, kind: 'member', field: 'by' }];
  const required = (mutation.requires ?? []).map((id) => ({ id, kind: null, field: 'requires' }));
  const referring = kind.references ? [...fieldNeeds(kind, fields), ...parentNeed(kind, fields)] : [];
  return [...person, ...required, ...referring, ...observedNeeds(fields)];
}

/** The value that a conflict is resolved to may name a record. */
function chosenIds({ mutation, fields }: ReadMutation): string[] {
  if (mutation.verb !== 'resolve') return [];
  const chosen = id.safeParse(fields.value);
  return chosen.success ? [chosen.data] : [];
}

/** Every id that has to be loaded before the mutation can be decided. */
export function neededIds(read: ReadMutation): string[] {
  return [read.mutation.id, ...needs(read).map((need) => need.id), ...chosenIds(read)];
}

/** A member may be entered by themselves; everything else that a record names must be here, and of the right kind. */
export function checkReferences(read: ReadMutation, world: World): NotTaken | null {
  const others = needs(read).filter((need) => need.field !== 'by' || need.id !== read.mutation.id);
  const missing = others.filter((need) => !world.get(need.id));
  if (missing.length > 0) return waiting(read.mutation, missing);
  const wrong = others.find((need) => need.kind !== null && world.get(need.id)?.state.kind !== need.kind);
  if (!wrong) return null;
  const is = withArticle(world.get(wrong.id)?.state.kind ?? 'record');
  const needed = withArticle(wrong.kind ?? 'record');
  return setAside(
    'reference_of_other_kind',
    `${wrong.field} names ${wrong.id}, which is ${is}, where ${needed} is expected`,
  );
}

function waiting(mutation: Mutation, missing: readonly Need[]): NotTaken {
  const list = missing.map((need) => `${need.field} ${need.id}`).join(', ');
  const ids = [...new Set(missing.map((need) => need.id))];
  return setAside('parent_missing', `${mutation.kind} ${mutation.id} waits for: ${list}`, ids);
}
