import { complexityFromQuery } from '@pothos/plugin-complexity';
import { type DocumentNode, type GraphQLSchema, Kind } from 'graphql';
import { QUERY_LIMITS } from '../../protocol/limits.ts';
import { tooCostly } from './query-limits.ts';

/** The operation that is to run, with the fragments of the document. */
function chosen(document: DocumentNode, operationName: string | undefined): DocumentNode {
  const definitions = document.definitions.filter(
    (one) => one.kind !== Kind.OPERATION_DEFINITION || operationName === undefined || one.name?.value === operationName,
  );
  return { ...document, definitions };
}

/**
 * Refuses an operation whose answer could hold too many values; its variables count, as they say how long pages are.
 *
 * @throws Problem `query_too_costly`
 */
export function checkCost(
  schema: GraphQLSchema,
  document: DocumentNode,
  variables: Record<string, unknown>,
  operationName: string | undefined,
): void {
  const { complexity } = complexityFromQuery(chosen(document, operationName), { schema, variables });
  if (complexity > QUERY_LIMITS.cost) throw tooCostly('cost', complexity);
}
