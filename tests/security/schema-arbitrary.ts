import fc from 'fast-check';
import { type ApiDocument, resolved, type Schema } from './api-document.ts';

/** What values are made of that a schema alone does not tell. */
export interface Making {
  readonly document: ApiDocument;
  /** Ids for a field of this name. */
  readonly ids: (field: string) => fc.Arbitrary<string>;
  /** Texts for a field of this name; null where any will do. */
  readonly texts: (field: string) => fc.Arbitrary<string> | null;
  /** Whether fields that may be missing are always there. */
  readonly whole: boolean;
  /** Values for a field that may hold any. */
  readonly anything?: fc.Arbitrary<unknown>;
  /** Dates and times; any of two centuries if missing. */
  readonly instants?: fc.Arbitrary<string>;
}

const two = (value: number): string => String(value).padStart(2, '0');

const day = fc
  .date({ min: new Date('1970-01-02T00:00:00Z'), max: new Date('2099-12-30T00:00:00Z'), noInvalidDate: true })
  .map((date) => date.toISOString());

const offset = fc.oneof(
  fc.constant('Z'),
  fc
    .tuple(fc.constantFrom('+', '-'), fc.integer({ min: 0, max: 14 }), fc.constantFrom(0, 30, 45))
    .map(([sign, hours, minutes]) => `${sign}${two(hours)}:${two(minutes)}`),
);

const instant = fc
  .tuple(day, offset, fc.constantFrom(19, 21, 23))
  .map(([text, zone, digits]) => `${text.slice(0, digits)}${zone}`);

const decimal = fc.oneof(
  fc
    .tuple(fc.integer({ min: -50, max: 400 }), fc.integer({ min: 0, max: 99 }))
    .map(([whole, part]) => `${whole}.${two(part)}`),
  fc.stringMatching(/^-?(?:0|[1-9]\d{0,8})(?:\.\d{1,6})?$/),
);

/** The patterns whose meaning is narrower than what they let through. */
const FORMED: readonly (readonly [RegExp, fc.Arbitrary<string>])[] = [
  [/^\^\\d\{4\}-\\d\\d-\\d\\dT/, instant],
  [/^\^\\d\{4\}-\\d\\d-\\d\\d\$$/, day.map((text) => text.slice(0, 10))],
  [/^\^-\?\(\?:0\|/, decimal],
];

const storable = fc.string({ unit: 'binary' }).filter((text) => text.isWellFormed() && !text.includes('\0'));

function textOf(schema: Schema): fc.Arbitrary<string> {
  const { minLength = 0, maxLength = 40 } = schema;
  const fits = (text: string) => text.length >= minLength && text.length <= maxLength;
  const plain = fc.string({ minLength, maxLength: Math.min(maxLength, 40), unit: 'grapheme-ascii' });
  return fc.oneof(
    plain,
    storable.filter(fits),
    fc.constantFrom('0', "'); drop table head; --", '<b>', '=1+1').filter(fits),
  );
}

function stringOf(schema: Schema, field: string, making: Making): fc.Arbitrary<string> {
  if (schema.format === 'uuid') return making.ids(field);
  const { pattern } = schema;
  if (pattern === undefined) return making.texts(field) ?? textOf(schema);
  const [, formed] = FORMED.find(([known]) => known.test(pattern)) ?? [];
  if (formed === instant && making.instants) return making.instants;
  return formed ?? fc.stringMatching(new RegExp(pattern));
}

function arrayOf(schema: Schema, field: string, making: Making): fc.Arbitrary<unknown> {
  const { minItems = making.whole ? 1 : 0, maxItems = 4, items = {} } = schema;
  return fc.array(arbitraryOf(items, field, making), {
    minLength: minItems,
    maxLength: Math.min(maxItems, minItems + 3),
  });
}

function objectOf(schema: Schema, making: Making): fc.Arbitrary<object> {
  const { properties = {}, required = [], additionalProperties, propertyNames } = schema;
  const model = Object.fromEntries(
    Object.entries(properties).map(([name, inner]) => [name, arbitraryOf(inner, name, making)]),
  );
  const known = fc.record(model, making.whole ? {} : { requiredKeys: [...required] });
  if (typeof additionalProperties !== 'object') return known;
  const names = propertyNames ? (arbitraryOf(propertyNames, '', making) as fc.Arbitrary<string>) : fc.string();
  const others = fc.dictionary(names, arbitraryOf(additionalProperties, '', making), { maxKeys: 3 });
  return fc.tuple(others, known).map(([extra, rest]) => ({ ...extra, ...rest }));
}

function numberOf({ minimum = 0, maximum = 1_000_000 }: Schema): fc.Arbitrary<number> {
  const span = { min: Math.ceil(minimum), max: Math.floor(maximum) };
  const small = fc.integer({ ...span, max: Math.min(span.max, span.min + 10_000) });
  return fc.oneof({ weight: 4, arbitrary: small }, fc.integer(span), fc.constantFrom(span.min, span.max));
}

function typeOf(schema: Schema, making: Making): string | readonly string[] | undefined {
  const { type } = schema;
  // where fields are all to be there, null is none of their values
  return Array.isArray(type) && making.whole ? type.find((one) => one !== 'null') : type;
}

/** Values that a schema of the document allows, for a field of this name. */
export function arbitraryOf(named: Schema, field: string, making: Making): fc.Arbitrary<unknown> {
  const schema = resolved(making.document, named);
  if (schema.const !== undefined) return fc.constant(schema.const);
  if (schema.enum) return fc.constantFrom(...schema.enum);
  if (schema.anyOf) {
    const choices = schema.anyOf.filter((one) => !making.whole || one.type !== 'null');
    return fc.oneof(...choices.map((one) => arbitraryOf(one, field, making)));
  }
  const type = typeOf(schema, making);
  if (typeof type === 'object')
    return fc.oneof(...type.map((one) => arbitraryOf({ ...schema, type: one }, field, making)));
  switch (type) {
    case 'object':
      return objectOf(schema, making);
    case 'array':
      return arrayOf(schema, field, making);
    case 'string':
      return stringOf(schema, field, making);
    case 'integer':
    case 'number':
      return numberOf(schema);
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    default:
      return making.anything ?? fc.jsonValue({ maxDepth: 2 });
  }
}
