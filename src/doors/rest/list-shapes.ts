import { z } from 'zod';
import { LIMITS } from '../../protocol/limits.ts';
import { id } from '../../protocol/primitives.ts';

export const count = z.int().min(0).max(Number.MAX_SAFE_INTEGER);

/** How much of a list, from where on. */
export const paging = {
  limit: z.coerce
    .number()
    .int()
    .min(1)
    .max(LIMITS.listPageItems)
    .default(LIMITS.listPageItems)
    .describe('Items in the page'),
  cursor: z.string().max(1_000).optional().describe('Of the link to the next page; opaque'),
} as const;

export const idParams = z.strictObject({ id });

/** RFC 8288: the next page, with everything else that was asked for. */
export function nextLink(url: string, next: string | null): Record<string, string> {
  if (next === null) return {};
  const address = new URL(url, 'http://localhost');
  address.searchParams.set('cursor', next);
  return { link: `<${address.pathname}${address.search}>; rel="next"` };
}
