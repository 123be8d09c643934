import type { FastifySchemaCompiler } from 'fastify';
import type { z } from 'zod';
import { Problem } from '../../protocol/problem.ts';
import { firstFault } from '../../protocol/read-mutation.ts';

/**
 * Validates with zod, and names in the refusal the field, what was given and what it may hold. A body that cannot be
 * read is `unreadable_record`, as in a push; a parameter or header is `bad_request`.
 */
export const validatorCompiler: FastifySchemaCompiler<z.ZodType> = ({ schema, httpPart }) => {
  return (given: unknown) => {
    const parsed = schema.safeParse(given ?? undefined);
    if (parsed.success) return { value: parsed.data };
    const { detail, pointer } = firstFault(parsed.error, given ?? undefined, '');
    const members = pointer === undefined ? {} : { pointer };
    if (httpPart === 'body') return { error: new Problem('unreadable_record', detail, members) };
    return { error: new Problem('bad_request', `${httpPart ?? 'request'}: ${detail}`, members) };
  };
};
