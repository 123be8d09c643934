import { z } from 'zod';

/** What a field holds, as far as GraphQL can say it; the kind definition says the rest when the value is read. */
export type Shape =
  | { readonly type: 'ID' | 'String' | 'Int' | 'Float' | 'Boolean' | 'JSON' }
  | { readonly type: 'enum'; readonly values: readonly string[] }
  | { readonly type: 'list'; readonly item: Shape }
  | ObjectShape
  /** An object of objects whose keys are values of an enumeration: GraphQL has none, so it is a list of entries. */
  | { readonly type: 'entries'; readonly keys: Shape; readonly value: ObjectShape };

interface ObjectShape {
  readonly type: 'object';
  readonly fields: readonly ShapeField[];
}

export interface ShapeField {
  readonly name: string;
  readonly shape: Shape;
  readonly required: boolean;
  readonly description: string | undefined;
  /** The kind of the record that it names, in an answer that says so. */
  readonly record?: string;
}

/** The parts of JSON Schema that the kinds use. */
interface JsonSchema {
  readonly type?: string | readonly string[];
  readonly format?: string;
  readonly enum?: readonly unknown[];
  readonly maximum?: number;
  readonly minimum?: number;
  readonly anyOf?: readonly JsonSchema[];
  readonly items?: JsonSchema;
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly propertyNames?: JsonSchema;
  readonly additionalProperties?: JsonSchema | boolean;
  readonly description?: string;
  readonly 'x-record'?: string;
}

const INT_MAX = 2 ** 31 - 1;

/** GraphQL names have no hyphens: at-the-well -> AT_THE_WELL, dissolvedOxygenMgPerL -> DISSOLVED_OXYGEN_MG_PER_L. */
export function enumName(value: string): string {
  return value
    .replace(/([a-z0-9])([A-Z])/g, '$1_$2')
    .replaceAll('-', '_')
    .toUpperCase();
}

/** Whether each value has a name of its own that GraphQL can spell. */
function haveNames(values: readonly string[]): boolean {
  const names = new Set(values.map(enumName));
  return names.size === values.length && [...names].every((name) => /^[A-Z][A-Z0-9_]*$/.test(name));
}

function stringShape(schema: JsonSchema): Shape {
  const values = (schema.enum ?? []).filter((value) => typeof value === 'string');
  // "0.1" and "mg/L" cannot be names: such choices stay text
  if (values.length > 0 && haveNames(values)) return { type: 'enum', values };
  return { type: schema.format === 'uuid' ? 'ID' : 'String' };
}

function objectShape(schema: JsonSchema): Shape {
  const { propertyNames, additionalProperties } = schema;
  const value = typeof additionalProperties === 'object' ? shapeOf(additionalProperties) : null;
  if (propertyNames?.enum && value?.type === 'object') return { type: 'entries', keys: shapeOf(propertyNames), value };
  if (!schema.properties) return { type: 'JSON' };
  const fields = Object.entries(schema.properties).map(([name, property]): ShapeField => {
    const required = schema.required?.includes(name) ?? false;
    const record = [property, ...alternatives(property)].flatMap((one) => one['x-record'] ?? [])[0];
    return {
      name,
      shape: shapeOf(property),
      required: required && isSaid(property) && !mayBeNull(property),
      description: property.description,
      ...(record === undefined ? {} : { record }),
    };
  });
  return { type: 'object', fields };
}

/** What a schema may be, apart from null: written as `anyOf`, or as a list of types. */
function alternatives({ anyOf, ...schema }: JsonSchema): readonly JsonSchema[] {
  const each = anyOf ?? [schema.type].flat().map((type) => ({ ...schema, ...(type === undefined ? {} : { type }) }));
  return each.filter(({ type }) => type !== 'null');
}

function mayBeNull({ anyOf, type }: JsonSchema): boolean {
  return [type].flat().includes('null') || (anyOf?.some((one) => one.type === 'null') ?? false);
}

/** A field of any value may hold null. */
function isSaid(schema: JsonSchema): boolean {
  return schema.type !== undefined || schema.anyOf !== undefined;
}

function shapeOf(schema: JsonSchema): Shape {
  const [only, ...others] = alternatives(schema);
  if (!only || others.length > 0) return { type: 'JSON' };
  return only.anyOf ? shapeOf(only) : shapeOfOne(only);
}

function shapeOfOne(schema: JsonSchema): Shape {
  switch (schema.type) {
    case 'string':
      return stringShape(schema);
    case 'integer':
      return { type: (schema.maximum ?? Number.POSITIVE_INFINITY) > INT_MAX ? 'Float' : 'Int' };
    case 'number':
      return { type: 'Float' };
    case 'boolean':
      return { type: 'Boolean' };
    case 'array':
      if (schema.items && mayBeNull(schema.items)) throw new Error('a list whose items may be null has no shape here');
      return { type: 'list', item: shapeOf(schema.items ?? {}) };
    case 'object':
      return objectShape(schema);
    default:
      return { type: 'JSON' };
  }
}

type Side = 'input' | 'output';

const known: Readonly<Record<Side, WeakMap<z.ZodType, readonly ShapeField[]>>> = {
  input: new WeakMap(),
  output: new WeakMap(),
};

/** The fields of an object schema, in its order: as it is given out, or as it is asked for. */
export function fieldsOf(schema: z.ZodType, io: Side = 'output'): readonly ShapeField[] {
  const before = known[io].get(schema);
  if (before) return before;
  const shape = shapeOf(z.toJSONSchema(schema, { io }) as JsonSchema);
  if (shape.type !== 'object') throw new Error('only an object schema has fields');
  known[io].set(schema, shape.fields);
  return shape.fields;
}
