import type { KindDefinition } from '../../protocol/kind.ts';
import { fieldsOf, type Shape, type ShapeField } from './shapes.ts';
import { singular } from './type-names.ts';

type Fields = Readonly<Record<string, unknown>>;

function entries(value: unknown, name: string, shape: Extract<Shape, { type: 'entries' }>): Fields {
  const key = singular(name);
  return Object.fromEntries(
    (value as readonly Fields[]).map(({ [key]: named, ...entry }) => [String(named), plain(entry, shape.value)]),
  );
}

/** An input as the kind definition knows it: entries become an object, everything else stays as it was given. */
function givenValue(value: unknown, { name, shape }: ShapeField): unknown {
  if (value === null || value === undefined) return value;
  if (shape.type === 'entries') return entries(value, name, shape);
  if (shape.type === 'list') return (value as readonly unknown[]).map((item) => plain(item, shape.item));
  return plain(value, shape);
}

function plain(value: unknown, shape: Shape): unknown {
  return shape.type === 'object' ? objectOf(value as Fields, shape.fields) : value;
}

function objectOf(given: Fields, fields: readonly ShapeField[]): Fields {
  const named = fields.filter(({ name }) => name in given);
  return Object.fromEntries(named.map((field) => [field.name, givenValue(given[field.name], field)]));
}

/** The fields that an input sets; what was left out stays out, and null stays null, which clears a field. */
export function setOf(kind: KindDefinition, input: unknown): Fields {
  return objectOf(input as Fields, fieldsOf(kind.fields));
}

/** Takes nulls out, where null is only another way of saying nothing. */
function said(value: unknown, shape: Shape): unknown {
  if (shape.type === 'list') return (value as readonly unknown[]).map((item) => said(item, shape.item));
  return shape.type === 'object' ? saidFields(value, shape.fields) : value;
}

/** What an input of a question says: an optional argument that is null is the same as one that was left out. */
export function saidFields(given: unknown, fields: readonly ShapeField[]): Fields {
  const all = given as Fields;
  const there = fields.filter(({ name }) => all[name] !== undefined && all[name] !== null);
  return Object.fromEntries(there.map(({ name, shape }) => [name, said(all[name], shape)]));
}
