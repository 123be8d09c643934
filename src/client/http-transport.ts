import type { ZodType } from 'zod';
import { feedListAnswer, feedPageAnswer, pushAnswerAnswer, verifyAnswer } from './answers.ts';
import type { FetchLike, FetchRequest } from './fetch-like.ts';
import { noAnswer, problemOf } from './problem.ts';
import type { Answer, FeedList, FeedPage, PushAnswer, Transport, VerifyAnswer } from './transport.ts';

export interface HttpTransportOptions {
  /** Where the API is, without `/v1`. */
  readonly base: string;
  readonly token: string;
  readonly fetch: FetchLike;
}

function readable<Value>(text: string, schema: ZodType): Answer<Value> {
  try {
    const value: unknown = JSON.parse(text);
    const parsed = schema.safeParse(value);
    // The value itself and not what the schema made of it: a record must keep every member for its hash.
    if (parsed.success) return { ok: true, value: value as Value };
    return noAnswer(`the answer is not what was asked for: ${parsed.error.issues[0]?.message ?? 'unreadable'}`);
  } catch {
    return noAnswer(`the answer was cut or is no JSON: ${text.length} characters came`);
  }
}

async function ask<Value>(
  options: HttpTransportOptions,
  path: string,
  schema: ZodType,
  body?: string,
): Promise<Answer<Value>> {
  const headers: Record<string, string> = { authorization: `Bearer ${options.token}`, accept: 'application/json' };
  if (body !== undefined) headers['content-type'] = 'application/x-ndjson';
  const request: FetchRequest = body === undefined ? { method: 'GET', headers } : { method: 'POST', headers, body };
  try {
    const response = await options.fetch(`${options.base.replace(/\/+$/, '')}/v1/sync/${path}`, request);
    const text = await response.text();
    return response.status === 200 ? readable(text, schema) : problemOf(response, text);
  } catch (error) {
    return noAnswer(error instanceof Error ? error.message : String(error));
  }
}

function query(members: Record<string, string | number | null>): string {
  const given = Object.entries(members).filter(([, value]) => value !== null);
  return given.map(([name, value]) => `${name}=${encodeURIComponent(String(value))}`).join('&');
}

export function httpTransport(options: HttpTransportOptions): Transport {
  const feedPath = (feed: string) => `feeds/${encodeURIComponent(feed)}`;
  return {
    feeds: (client, asked) => ask<FeedList>(options, `feeds?${query({ client, ...asked })}`, feedListAnswer),
    page: ({ feed, ...rest }) => ask<FeedPage>(options, `${feedPath(feed)}/rows?${query(rest)}`, feedPageAnswer),
    push: (body, carried = false) =>
      ask<PushAnswer>(options, carried ? 'push?carried=true' : 'push', pushAnswerAnswer, body),
    verify: (feed, prefix) => ask<VerifyAnswer>(options, `${feedPath(feed)}/verify?${query({ prefix })}`, verifyAnswer),
  };
}
