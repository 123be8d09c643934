import type { z } from 'zod';
import { Problem } from '../../protocol/problem.ts';
import { firstFault } from '../../protocol/read-mutation.ts';

/** @throws Problem `bad_request` naming the parameter */
export function parseQuery<Schema extends z.ZodType>(schema: Schema, query: unknown): z.output<Schema> {
  const parsed = schema.safeParse(query);
  if (parsed.success) return parsed.data;
  const { detail, pointer } = firstFault(parsed.error, query, '');
  throw new Problem('bad_request', `query: ${detail}`, { pointer });
}
