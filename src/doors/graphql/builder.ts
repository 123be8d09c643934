import SchemaBuilder from '@pothos/core';
import ComplexityPlugin from '@pothos/plugin-complexity';
import RelayPlugin from '@pothos/plugin-relay';
import { valueFromASTUntyped } from 'graphql';
import type { RecordRow } from '../../store/read/record-states.ts';
import type { GraphContext } from './context.ts';
import { pascal } from './type-names.ts';

/** Fields that only carry others cost nothing of their own. */
const FREE = { complexity: 0 } as const;
const ONCE = { complexity: { field: 0, multiplier: 1 } } as const;

/** How many items a list has that is not paged, for the cost of a query. */
const SHORT_LIST = 10;

export interface Types {
  Context: GraphContext;
  DefaultFieldNullability: false;
  DefaultEdgesNullability: false;
  DefaultNodeNullability: false;
  Scalars: {
    ID: { Input: string; Output: string };
    JSON: { Input: unknown; Output: unknown };
  };
}

function newSchemaBuilder() {
  return new SchemaBuilder<Types>({
    plugins: [ComplexityPlugin, RelayPlugin],
    defaultFieldNullability: false,
    complexity: { defaultComplexity: 1, defaultListMultiplier: SHORT_LIST },
    relay: {
      // ids are unique within a firm, whatever the kind: what the record is called everywhere else is its id here
      nodeTypeOptions: {
        description: 'Anything that has an id and can be asked for by it.',
        resolveType: (row) => pascal((row as RecordRow).kind),
      },
      nodeQueryOptions: false,
      nodesQueryOptions: false,
      edgesFieldOptions: { nullable: false, ...ONCE },
      nodeFieldOptions: { nullable: false, ...FREE },
      nodesOnConnection: ONCE,
      pageInfoFieldOptions: FREE,
      hasNextPageFieldOptions: FREE,
      hasPreviousPageFieldOptions: FREE,
      startCursorFieldOptions: FREE,
      endCursorFieldOptions: FREE,
    },
  });
}

export type Builder = ReturnType<typeof newSchemaBuilder>;
/** What the references to types of this schema are parameterised by. */
export type DoorTypes = PothosSchemaTypes.ExtendDefaultTypes<Types>;

export function newBuilder(): Builder {
  const builder = newSchemaBuilder();
  builder.scalarType('JSON', {
    description: 'Any JSON value.',
    serialize: (value) => value,
    parseValue: (value) => value,
    parseLiteral: (node, variables) => valueFromASTUntyped(node, variables),
  });
  return builder;
}
