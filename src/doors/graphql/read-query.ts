import { z } from 'zod';
import { Problem } from '../../protocol/problem.ts';
import { firstFault } from '../../protocol/read-mutation.ts';

/** What a body asks: GraphQL over HTTP. Members that we do not know are left alone, as that document asks for. */
const body = z.object({
  query: z.string().min(1),
  operationName: z.string().max(200).nullish(),
  variables: z.record(z.string(), z.unknown()).nullish(),
});

export interface Query {
  readonly query: string;
  readonly operationName: string | undefined;
  readonly variables: Record<string, unknown>;
}

/**
 * How a text that asks for something begins, after what GraphQL leaves out of account. Mercurius takes a text that is
 * no GraphQL for a syntax tree in JSON, which would pass by the limit of tokens.
 */
const BEGINNING = /^[\s,\uFEFF]*(?:#|\{[\s,]*[^\s,"}]|(?:query|mutation|subscription|fragment)\b)/;

/** @throws Problem `bad_request` for another body, `unreadable_query` for a text that is no query */
export function readQuery(given: unknown): Query {
  if (Array.isArray(given)) throw new Problem('bad_request', 'the body is a list: one query a request');
  const parsed = body.safeParse(given);
  if (!parsed.success) {
    const { detail, pointer } = firstFault(parsed.error, given, '');
    throw new Problem('bad_request', detail, { pointer });
  }
  const { query, operationName, variables } = parsed.data;
  if (!BEGINNING.test(query)) throw new Problem('unreadable_query', 'the text begins like no GraphQL query');
  return { query, operationName: operationName ?? undefined, variables: variables ?? {} };
}
