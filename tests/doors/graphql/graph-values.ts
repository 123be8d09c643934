import type { GraphQLInputType, GraphQLOutputType } from 'graphql';
import { graphql } from './graphql-of-mercurius.ts';

type Fields = Readonly<Record<string, unknown>>;

/** A value as a question takes it, as a variable of GraphQL: choices by their names. */
export function asVariable(value: unknown, type: GraphQLInputType): unknown {
  if (graphql.isNonNullType(type)) return asVariable(value, type.ofType);
  if (value === undefined || value === null) return value;
  if (graphql.isListType(type)) return (value as unknown[]).map((item) => asVariable(item, type.ofType));
  if (graphql.isEnumType(type)) return type.getValues().find((one) => one.value === value)?.name ?? value;
  if (!graphql.isInputObjectType(type)) return value;
  const fields = type.getFields();
  return Object.fromEntries(
    Object.entries(value as Fields).map(([name, inner]) => {
      const field = fields[name];
      return [name, field ? asVariable(inner, field.type) : inner];
    }),
  );
}

/** Everything that a type can tell, as the selection of a query. */
export function everything(type: GraphQLOutputType): string {
  const named = graphql.getNamedType(type);
  if (!graphql.isObjectType(named)) return '';
  const fields = Object.values(named.getFields());
  return `{ ${fields.map((field) => `${field.name} ${everything(field.type)}`).join(' ')} }`;
}

/** An answer of GraphQL as the question gave it: names of choices as values, and what is null left out. */
export function asAnswered(value: unknown, type: GraphQLOutputType): unknown {
  if (graphql.isNonNullType(type)) return asAnswered(value, type.ofType);
  if (value === null) return null;
  if (graphql.isListType(type)) return (value as unknown[]).map((item) => asAnswered(item, type.ofType));
  if (graphql.isEnumType(type)) return type.getValue(String(value))?.value;
  if (!graphql.isObjectType(type)) return value;
  const fields = type.getFields();
  return Object.fromEntries(
    Object.entries(value as Fields).map(([name, inner]) => {
      const field = fields[name];
      if (!field) throw new Error(`${type.name} has no field ${name}`);
      return [name, asAnswered(inner, field.type)];
    }),
  );
}

/** Without what is null: a field that may be missing is null in GraphQL and missing in REST. */
export function withoutNulls(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutNulls);
  if (typeof value !== 'object' || value === null) return value;
  const there = Object.entries(value).filter(([, inner]) => inner !== null && inner !== undefined);
  return Object.fromEntries(there.map(([name, inner]) => [name, withoutNulls(inner)]));
}
