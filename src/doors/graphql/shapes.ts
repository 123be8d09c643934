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
}

/** The parts of JSON Schema that the kinds use. */
interface JsonSchema {
  readonly type?: string;
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
}

const INT_MAX = 2 ** 31 - 1;

/** GraphQL names have no hyphens: at-the-well -> AT_THE_WELL, dissolvedOxygenMgPerL -> DISSOLVED_OXYGEN_MG_PER_L. */
export function enumName(value: string): string {
  return value
    .replace(/([a-z0-9])([A-Z])/g, '$1_$2')
    .replaceAll('-', '_')
    .toUpperCase();
}

function stringShape(schema: JsonSchema): Shape {
  const values = (schema.enum ?? []).filter((value) => typeof value === 'string');
  // "0.1" cannot be a name: such choices stay text
  if (values.length > 0 && values.every((value) => /^[A-Za-z]/.test(value))) return { type: 'enum', values };
  return { type: schema.format === 'uuid' ? 'ID' : 'String' };
}

function objectShape(schema: JsonSchema): Shape {
  const { propertyNames, additionalProperties } = schema;
  const value = typeof additionalProperties === 'object' ? shapeOf(additionalProperties) : null;
  if (propertyNames?.enum && value?.type === 'object') return { type: 'entries', keys: shapeOf(propertyNames), value };
  if (!schema.properties) return { type: 'JSON' };
  const fields = Object.entries(schema.properties).map(([name, property]): ShapeField => {
    const required = schema.required?.includes(name) ?? false;
    return {
      name,
      shape: shapeOf(property),
      required: required && isSaid(property),
      description: property.description,
    };
  });
  return { type: 'object', fields };
}

/** A field of any value may hold null. */
function isSaid(schema: JsonSchema): boolean {
  return schema.type !== undefined || schema.anyOf !== undefined;
}

function shapeOf(schema: JsonSchema): Shape {
  const given = schema.anyOf?.filter((one) => one.type !== 'null');
  if (given) return given.length === 1 && given[0] ? shapeOf(given[0]) : { type: 'JSON' };
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
      return { type: 'list', item: shapeOf(schema.items ?? {}) };
    case 'object':
      return objectShape(schema);
    default:
      return { type: 'JSON' };
  }
}

const known = new WeakMap<z.ZodType, readonly ShapeField[]>();

/** The fields of an object schema, in its order. */
export function fieldsOf(schema: z.ZodType): readonly ShapeField[] {
  const before = known.get(schema);
  if (before) return before;
  const shape = shapeOf(z.toJSONSchema(schema) as JsonSchema);
  if (shape.type !== 'object') throw new Error('only an object schema has fields');
  known.set(schema, shape.fields);
  return shape.fields;
}
