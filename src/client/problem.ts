import { z } from 'zod';
import type { FetchResponse } from './fetch-like.ts';
import { NO_ANSWER, type Problem } from './transport.ts';

/** Members of a problem (RFC 9457) that the library acts on; one of the wrong type counts as missing. */
const problemText = z.looseObject({
  code: z.string().optional().catch(undefined),
  title: z.string().optional().catch(undefined),
  detail: z.string().optional().catch(undefined),
  expected: z.int().optional().catch(undefined),
  mutation: z.int().optional().catch(undefined),
  reason: z.string().optional().catch(undefined),
  lastMutation: z.int().optional().catch(undefined),
});

export function noAnswer(detail: string): { readonly ok: false; readonly problem: Problem } {
  const nothing = { retryAfterMs: null, expected: null, mutation: null, reason: null, lastMutation: null };
  return { ok: false, problem: { status: null, code: NO_ANSWER, detail, ...nothing } };
}

/** Retry-After in seconds; its other form, a date, would be compared with a phone's clock, so it is passed over. */
function retryAfterMs(header: string | null): number | null {
  return header !== null && /^\d{1,6}$/.test(header) ? Number(header) * 1_000 : null;
}

function members(text: string): z.output<typeof problemText> {
  try {
    return problemText.catch({}).parse(JSON.parse(text));
  } catch {
    return {};
  }
}

/** An answer other than 200; a proxy's page has no code and is named by its status. */
export function problemOf(response: FetchResponse, text: string): { readonly ok: false; readonly problem: Problem } {
  const said = members(text);
  const problem: Problem = {
    status: response.status,
    code: said.code ?? `http_${response.status}`,
    detail: said.detail ?? said.title ?? `answered with ${response.status}`,
    retryAfterMs: retryAfterMs(response.headers.get('retry-after')),
    expected: said.expected ?? null,
    mutation: said.mutation ?? null,
    reason: said.reason ?? null,
    lastMutation: said.lastMutation ?? null,
  };
  return { ok: false, problem };
}
