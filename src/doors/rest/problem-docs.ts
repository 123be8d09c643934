import { z } from 'zod';
import { CODES, type Code } from '../../protocol/codes.ts';

const CODE_NAMES = Object.keys(CODES) as [Code, ...Code[]];

/** RFC 9457, with members of our own. */
export const problemSchema = z
  .looseObject({
    type: z.string().describe('Address of the entry of the registry'),
    title: z.string(),
    status: z.int(),
    detail: z.string().describe('What happened, what was given, what may stand there'),
    code: z.enum(CODE_NAMES),
    remedy: z.string().describe('What to do'),
    requestId: z.string().describe('Under which the log of the server knows the request'),
    pointer: z.string().optional().describe('JSON Pointer to the field of the body'),
  })
  .meta({ id: 'Problem', description: 'Why a request was refused' });

/** What any request may meet. */
const ALWAYS: readonly Code[] = ['bad_request', 'too_many', 'internal', 'busy', 'newer_database'];
const WITH_TOKEN: readonly Code[] = ['unauthenticated', 'forbidden'];

/** The refusals of a body that was read. */
export const BODY_CODES: readonly Code[] = [
  'unreadable_json',
  'unreadable_text',
  'too_deep',
  'too_large',
  'unsupported_media',
  'unreadable_record',
];

function answerOf(codes: readonly Code[]) {
  const description = codes.map((code) => `${code}: ${CODES[code].title}`).join('; ');
  return { description, content: { 'application/problem+json': { schema: problemSchema } } };
}

function byStatus(codes: readonly Code[]): Record<number, ReturnType<typeof answerOf>> {
  const statuses = [...new Set(codes.map((code) => CODES[code].status))].sort();
  return Object.fromEntries(
    statuses.map((status) => [status, answerOf(codes.filter((code) => CODES[code].status === status))]),
  );
}

/** The documented refusals of a route that asks for a token: these, and those that any request may meet. */
export function problems(...codes: readonly Code[]) {
  return byStatus([...ALWAYS, ...WITH_TOKEN, ...codes]);
}

/** The documented refusals of a route that is open to everyone. */
export function openProblems(...codes: readonly Code[]) {
  return byStatus([...ALWAYS, ...codes]);
}

/** A documented answer in JSON. */
export function answer<Schema extends z.ZodType>(description: string, schema: Schema) {
  return { description, content: { 'application/json': { schema } } };
}
