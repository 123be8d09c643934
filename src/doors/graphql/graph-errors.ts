import type { FastifyBaseLogger } from 'fastify';
import type { GraphQLError } from 'graphql';
import { CODES, type Code } from '../../protocol/codes.ts';
import { Problem } from '../../protocol/problem.ts';
import { problemOf } from '../answer-problem.ts';

/** An error of an answer, as GraphQL gives it out. */
export interface GraphError {
  readonly message: string;
  readonly locations?: readonly { readonly line: number; readonly column: number }[];
  readonly path?: readonly (string | number)[];
  readonly extensions: Readonly<Record<string, unknown>> & { readonly code: Code };
}

/** Where an answer is made, for the log and for whoever asks about it. */
export interface Place {
  readonly requestId: string;
  readonly log: FastifyBaseLogger;
}

/** Told by its form: a process may hold graphql-js twice, as a module and as a script, with a class of errors each. */
function isGraphQLError(error: unknown): error is GraphQLError {
  return error instanceof Error && 'nodes' in error && 'originalError' in error;
}

/** At most this much is said of what was sent. */
const LONGEST_GIVEN = 80;
const NOT_TEXT = /String cannot represent a non string value: -?[\d.]+\.?$/;

/** A message is not to say more of the schema than was asked, nor to give back all that was sent. */
function tidy(message: string): string {
  const said = message
    .replace(/ Did you mean [\s\S]*\?$/, '')
    .replace(/(got invalid value )([\s\S]*)(; [\s\S]*)$/, (_, before: string, given: string, why: string) => {
      return before + (given.length > LONGEST_GIVEN ? `${given.slice(0, LONGEST_GIVEN - 3)}...` : given) + why;
    });
  const measured = NOT_TEXT.test(said)
    ? `${said.replace(/\.$/, '')}; a measured value is a decimal string: "7.10"`
    : said;
  return measured.slice(0, 500);
}

/**
 * A fault that graphql-js found in the query or its variables, rather than one that a resolver met. What is wrong with a
 * variable it wraps in an error without a path; what is wrong with an argument, it finds only on the way to the resolver.
 */
function isOfQuery(error: GraphQLError): boolean {
  const { originalError, path } = error;
  if (isGraphQLError(originalError)) return path === undefined || originalError.nodes !== undefined;
  return originalError === undefined && path === undefined;
}

function meant(error: unknown): Problem {
  if (!isGraphQLError(error)) return problemOf(error);
  if (!isOfQuery(error)) return problemOf(error.originalError ?? error);
  const tokens = /contains more that \d+ tokens/.test(error.message);
  return new Problem(tokens ? 'query_too_costly' : 'unreadable_query', tidy(error.message));
}

/** What went wrong, with its code; a fault of ours is only named, and written to the log. */
export function graphError(error: unknown, { requestId, log }: Place): GraphError {
  const problem = meant(error);
  if (problem.code === 'internal') log.error({ err: error }, 'a fault of ours');
  const { code, members } = problem;
  const where = isGraphQLError(error) ? error : null;
  return {
    message: problem.message,
    ...(where?.locations ? { locations: where.locations } : {}),
    ...(where?.path ? { path: where.path } : {}),
    extensions: { ...members, code, remedy: CODES[code].remedy, requestId },
  };
}

export function statusOf({ extensions }: GraphError): number {
  return CODES[extensions.code].status;
}
