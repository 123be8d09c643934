import fc from 'fast-check';
import type { GraphQLArgument, GraphQLField, GraphQLInputType, GraphQLNamedType, GraphQLOutputType } from 'graphql';
import { graphql } from '../doors/graphql/graphql-of-mercurius.ts';
import { kindOf } from './graph-attacks.ts';
import { mutationFields, queryFields } from './graph-fields.ts';
import { spoil } from './nasty.ts';
import { NAMED_TEXTS } from './plant.ts';
import type { Ground } from './request-arbitrary.ts';

type Field = GraphQLField<unknown, unknown>;

/** A question or change with its variables, as text. */
export interface GraphRequest {
  readonly body: string | Buffer;
  readonly what: string;
}

function fieldsOf(type: GraphQLNamedType): Field[] {
  return graphql.isObjectType(type) || graphql.isInterfaceType(type) ? Object.values(type.getFields()) : [];
}

const LITERALS: Readonly<Record<string, fc.Arbitrary<string>>> = {
  Int: fc.oneof(
    fc.integer({ min: 1, max: 4 }).map(String),
    fc.constantFrom('0', '-1', '201', '2147483648', '1.5', 'null'),
  ),
  Float: fc.constantFrom('0', '-0', '1e309', '1e-400', '9007199254740993', '7.10'),
  Boolean: fc.constantFrom('true', 'false', 'null', '1'),
};

/** Strings of GraphQL have no form in the schema: those that the fields behind them know, and others. */
const TEXTS = fc.constantFrom(
  ...Object.values(NAMED_TEXTS),
  '7.10',
  '2026-05-04',
  '2026-05-04T10:00:00-05:00',
  '2026-02-30T10:00:00Z',
  'W-1',
  '',
  '\u0000',
  '\ud800',
  'x'.repeat(5_000),
  '__proto__',
);

function literalOf(type: GraphQLInputType, name: string, ground: Ground, depth = 0): fc.Arbitrary<string> {
  const bare = graphql.getNullableType(type);
  if (graphql.isListType(bare)) {
    return fc
      .array(literalOf(bare.ofType, name, ground, depth), { maxLength: 3 })
      .map((items) => `[${items.join(' ')}]`);
  }
  if (graphql.isEnumType(bare)) return fc.constantFrom(...bare.getValues().map((value) => value.name), 'NO_SUCH');
  if (graphql.isInputObjectType(bare)) return objectLiteral(Object.values(bare.getFields()), ground, depth + 1);
  if (bare.name === 'ID') {
    const own = ground.ids.byKind.get(ground.ids.kindOfField(name)) ?? [];
    return fc.constantFrom(...own, ...own, ...own, 'x', '').map((id) => JSON.stringify(id));
  }
  return LITERALS[bare.name] ?? TEXTS.map((text) => JSON.stringify(text));
}

function objectLiteral(
  fields: readonly { name: string; type: GraphQLInputType }[],
  ground: Ground,
  depth: number,
): fc.Arbitrary<string> {
  const given = fields.map(({ name, type }) => {
    const value = depth > 3 ? fc.constant('null') : literalOf(type, name, ground, depth);
    const pair = value.map((text) => `${name}: ${text}`);
    const there = graphql.isNonNullType(type) ? 12 : 1;
    return fc.oneof({ weight: there, arbitrary: pair }, { weight: 1, arbitrary: fc.constant('') });
  });
  return fc.tuple(...given).map((parts) => `{ ${parts.filter((part) => part !== '').join(' ')} }`);
}

function argumentsOf(field: Field, args: readonly GraphQLArgument[], ground: Ground): fc.Arbitrary<string> {
  const given = args.map((arg) => {
    const own =
      arg.name === 'id'
        ? (ground.ids.byKind.get(kindOf(field.name.replace(/^(record|amend|void|rehome|resolve|release)/, ''))) ?? [])
        : [];
    const literal =
      own.length > 0 ? fc.constantFrom(...own).map((id) => JSON.stringify(id)) : literalOf(arg.type, arg.name, ground);
    const pair = literal.map((text) => `${arg.name}: ${text}`);
    const there = graphql.isRequiredArgument(arg) ? 20 : 1;
    return fc.oneof(
      { weight: there, arbitrary: pair },
      { weight: graphql.isRequiredArgument(arg) ? 1 : 3, arbitrary: fc.constant('') },
    );
  });
  return fc.tuple(...given).map((parts) => {
    const all = parts.filter((part) => part !== '');
    return all.length === 0 ? '' : `(${all.join(', ')})`;
  });
}

function selectionOf(type: GraphQLOutputType, ground: Ground, depth: number): fc.Arbitrary<string> {
  const named = graphql.getNamedType(type);
  if (graphql.isLeafType(named)) return fc.constant('');
  const fields = fieldsOf(named);
  const some = depth > 3 ? fields.filter(({ type: to }) => graphql.isLeafType(graphql.getNamedType(to))) : fields;
  return fc
    .subarray(some, { minLength: Math.min(1, some.length), maxLength: Math.min(some.length, 4) })
    .chain((chosen) => fc.tuple(...chosen.map((field) => fieldText(field, ground, depth + 1))))
    .map((texts) => `{ __typename ${texts.join(' ')} }`);
}

function fieldText(field: Field, ground: Ground, depth: number): fc.Arbitrary<string> {
  return fc
    .tuple(argumentsOf(field, field.args, ground), selectionOf(field.type, ground, depth))
    .map(([args, selection]) => `${field.name}${args} ${selection}`);
}

/** Questions and changes of any field of the schema, some of them spoilt. */
export function graphRequests(ground: Ground): fc.Arbitrary<GraphRequest> {
  const ask = (kind: string, fields: readonly Field[]) =>
    fc
      .array(
        fc.constantFrom(...fields).chain((field) => fieldText(field, ground, 1)),
        { minLength: 1, maxLength: 2 },
      )
      .map((texts) => `${kind} { ${texts.map((text, at) => `f${at}: ${text}`).join(' ')} }`);
  const text = fc.oneof(ask('query', queryFields()), ask('mutation', mutationFields()));
  return fc.tuple(text, spoil).map(([query, { what, spoil: act }]) => {
    const value = { query, variables: {} };
    return { body: act(JSON.stringify(value), value), what };
  });
}
