import { withArticle } from '../../protocol/field-words.ts';
import type { KindDefinition } from '../../protocol/kind.ts';
import type { Mutation, Verb } from '../../protocol/mutation.ts';
import { id } from '../../protocol/primitives.ts';
import type { Fields, ReadMutation } from '../../protocol/read-mutation.ts';
import type { Held, World } from '../held.ts';
import { type NotTaken, setAside } from './decision.ts';

/** A record that must be here before the mutation can be applied, and the kind that it must be of (null: any). */
interface Need {
  readonly id: string;
  readonly kind: string | null;
  readonly field: string;
}

function observedNeeds(fields: Fields): Need[] {
  const seen = fields.observed as { readBy: string; writtenBy: string } | undefined | null;
  if (!seen) return [];
  return (['readBy', 'writtenBy'] as const).map((part) => {
    return { id: seen[part], kind: 'member', field: `observed/${part}` };
  });
}

function fieldNeeds(kind: KindDefinition, fields: Fields): Need[] {
  const named = Object.entries(kind.references) as [string, string][];
  return named.flatMap(([field, target]) => {
    const id = fields[field];
    return typeof id === 'string' ? [{ id, kind: target, field }] : [];
  });
}

/** Only these set fields of the kind, which were read as such; what else carries a `set` names nothing by it. */
const SETTING: readonly Verb[] = ['record', 'amend', 'rehome'];

function needs(read: ReadMutation): Need[] {
  const { mutation, kind, fields } = read;
  const person = mutation.by === undefined ? [] : [{ id: mutation.by, kind: 'member', field: 'by' }];
  const required = (mutation.requires ?? []).map((id) => ({ id, kind: null, field: 'requires' }));
  const named = SETTING.includes(mutation.verb) ? [...fieldNeeds(kind, fields), ...observedNeeds(fields)] : [];
  return [...person, ...required, ...named];
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
  return others.flatMap((need) => ofOtherKind(need, world.get(need.id)))[0] ?? null;
}

function ofOtherKind({ id, kind, field }: Need, held: Held | undefined): NotTaken[] {
  if (!held || kind === null || held.state.kind === kind) return [];
  const [is, needed] = [withArticle(held.state.kind), withArticle(kind)];
  return [setAside('reference_of_other_kind', `${field} names ${id}, which is ${is}, where ${needed} is expected`)];
}

function waiting(mutation: Mutation, missing: readonly Need[]): NotTaken {
  const list = missing.map((need) => `${need.field} ${need.id}`).join(', ');
  const ids = [...new Set(missing.map((need) => need.id))];
  return setAside('parent_missing', `${mutation.kind} ${mutation.id} waits for: ${list}`, ids);
}
