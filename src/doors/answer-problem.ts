import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { CODES, type Code } from '../protocol/codes.ts';
import { LIMITS } from '../protocol/limits.ts';
import { Problem } from '../protocol/problem.ts';
import { faultOf } from '../store/fault.ts';
import { isOfOtherTables } from '../store/newer-tables.ts';
import { alarmOf } from './history-alarm.ts';

/** The fault beside it tells the two apart: a database that is as old as the program would have shown it in every test. */
const NEWER = 'the tables are not those of this program: a newer one brought them up to date, end this process';

/** What Fastify's own refusals are called here. */
const OF_FASTIFY: Readonly<Record<string, Code>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: 'too_large',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'unsupported_media',
  FST_ERR_CTP_EMPTY_TYPE: 'unsupported_media',
  FST_ERR_CTP_INVALID_JSON_BODY: 'unreadable_json',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'unreadable_json',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'bad_request',
  FST_ERR_BAD_URL: 'bad_request',
  FST_ERR_NOT_FOUND: 'not_found',
  FST_ERR_MAX_PARAM_LENGTH: 'not_found',
};

function ofStatus(error: FastifyError): Code {
  const status = error.statusCode ?? 500;
  if (error instanceof SyntaxError) return 'unreadable_json';
  if (status === 429) return 'too_many';
  if (status === 503) return 'busy';
  return status >= 400 && status < 500 ? 'bad_request' : 'internal';
}

/** A fault of any layer as a problem; what is not ours to explain stays in the log. */
export function problemOf(error: unknown): Problem {
  if (error instanceof Problem) return error;
  if (faultOf(error) === 'transient') return new Problem('busy', 'the database cannot take it at the moment');
  if (isOfOtherTables(error)) {
    return new Problem('newer_database', 'a table or column that this process asks for is not there any more');
  }
  const fault = error as FastifyError;
  if (fault.validation) {
    const [first] = fault.validation;
    const pointer = first?.instancePath ?? '';
    return new Problem('bad_request', `${fault.validationContext ?? 'request'}${pointer}: ${first?.message ?? ''}`, {
      pointer,
    });
  }
  const code = OF_FASTIFY[fault.code ?? ''] ?? ofStatus(fault);
  return new Problem(code, code === 'internal' ? 'see the log of the server under the request id' : fault.message);
}

/** RFC 9457, with the code of the registry, what to do, and the id under which the log knows the request. */
export function problemBody(problem: Problem, requestId: string) {
  const { status, title, remedy } = CODES[problem.code];
  const { code, message: detail, members } = problem;
  return { type: `/v1/problems/${code}`, title, status, detail, code, remedy, requestId, ...members };
}

const RETRY_AFTER_S = 1;

/** Of bodies that may be larger or smaller than others. */
const OWN_LIMITS = ['pushBytes', 'resultsBytes'] as const;

/** A body over a limit is refused by the name of the limit. */
function tooLarge({ routeOptions }: FastifyRequest): Problem {
  const limit = OWN_LIMITS.find((name) => LIMITS[name] === routeOptions.bodyLimit) ?? 'bodyBytes';
  return new Problem('too_large', `the body is over the limit ${limit} ${LIMITS[limit]}`, { limit });
}

export function answerProblem(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const isTooLarge = (error as Partial<FastifyError> | null)?.code === 'FST_ERR_CTP_BODY_TOO_LARGE';
  const problem = isTooLarge ? tooLarge(request) : problemOf(error);
  if (problem.code === 'internal') request.log.error({ err: error }, 'a fault of ours');
  if (problem.code === 'newer_database') request.log.error({ err: error }, NEWER);
  alarmOf(request, problem);
  const again = problem.status === 503 || problem.status === 429;
  if (again && !reply.hasHeader('retry-after')) {
    reply.header('retry-after', String(problem.members.retryAfterS ?? RETRY_AFTER_S));
  }
  if (problem.status === 401) reply.header('www-authenticate', 'Bearer');
  return reply
    .code(problem.status)
    .type('application/problem+json')
    .send(JSON.stringify(problemBody(problem, request.id)));
}

/** Every refusal of the instance has the same form. */
export function answerProblems(app: FastifyInstance): void {
  app.setErrorHandler((error, request, reply) => answerProblem(error, request, reply));
  app.setNotFoundHandler((request, reply) =>
    answerProblem(
      new Problem('not_found', `${request.method} ${request.url.slice(0, 200)} is no address here`),
      request,
      reply,
    ),
  );
}
