import type { GraphQLField, GraphQLNamedType, GraphQLOutputType, GraphQLSchema } from 'graphql';
import { graphSchema } from '../../src/doors/graphql/schema.ts';
import { graphql } from '../doors/graphql/graphql-of-mercurius.ts';

export const schema: GraphQLSchema = graphSchema();

type Field = GraphQLField<unknown, unknown>;

export function queryFields(): Field[] {
  return Object.values(schema.getQueryType()?.getFields() ?? {});
}

export function mutationFields(): Field[] {
  return Object.values(schema.getMutationType()?.getFields() ?? {});
}

function fieldsOf(type: GraphQLNamedType): Field[] {
  return graphql.isObjectType(type) || graphql.isInterfaceType(type) ? Object.values(type.getFields()) : [];
}

function isAskable({ args }: Field): boolean {
  return args.every((arg) => !graphql.isRequiredArgument(arg));
}

function isLeaf({ type }: { readonly type: GraphQLOutputType }): boolean {
  return graphql.isLeafType(graphql.getNamedType(type));
}

/** Everything that a type says by itself; of a list, all that it says of what it holds. */
export function leaves(type: GraphQLNamedType): string {
  const own = fieldsOf(type)
    .filter((field) => isAskable(field) && isLeaf(field))
    .map(({ name }) => name);
  const nodes = fieldsOf(type).find(({ name }) => name === 'nodes');
  const held = nodes ? [`nodes { ${leaves(graphql.getNamedType(nodes.type))} }`] : [];
  return ['__typename', ...own, ...held].join(' ');
}

/** The records and values that a type leads to, one question for each. */
function ways(type: GraphQLNamedType): string[] {
  const nodes = fieldsOf(type).find(({ name }) => name === 'nodes');
  if (nodes) return ways(graphql.getNamedType(nodes.type)).map((way) => `nodes { ${way} }`);
  return fieldsOf(type)
    .filter((field) => isAskable(field) && !isLeaf(field))
    .map(({ name, type: to, args }) => {
      const few = args.some((arg) => arg.name === 'first') ? '(first: 3)' : '';
      return `${name}${few} { ${leaves(graphql.getNamedType(to))} }`;
    });
}

/** Selections that together ask a field for everything that is one step away. */
export function selections(type: GraphQLOutputType): string[] {
  const named = graphql.getNamedType(type);
  return graphql.isLeafType(named) ? [''] : [leaves(named), ...ways(named)].map((selection) => `{ ${selection} }`);
}
