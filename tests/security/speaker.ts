import type { FastifyInstance } from 'fastify';
import type { Role } from '../../src/protocol/kind.ts';
import type { Method } from './api-document.ts';

export interface Asked {
  readonly method: Method;
  readonly url: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly payload?: object | string | Buffer;
}

export interface Answered {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly text: string;
}

/** Someone with a token of a firm. */
export interface Speaker {
  readonly role: Role;
  readonly ask: (asked: Asked) => Promise<Answered>;
}

export function speaker(app: FastifyInstance, role: Role, secret: string): Speaker {
  return {
    role,
    async ask({ method, url, headers = {}, payload }) {
      const auth = { authorization: `Bearer ${secret}` };
      const typed = payload === undefined ? {} : { 'content-type': 'application/json' };
      const body = payload === undefined ? {} : { payload };
      const response = await app.inject({ method, url, headers: { ...auth, ...typed, ...headers }, ...body });
      return { status: response.statusCode, headers: response.headers, text: response.body };
    },
  };
}

/** As ask, for requests that are to succeed. */
export async function mustDo(by: Speaker, asked: Asked): Promise<Record<string, unknown>> {
  const { status, text } = await by.ask(asked);
  if (status >= 200 && status < 300) return JSON.parse(text) as Record<string, unknown>;
  throw new Error(`${asked.method} ${asked.url} was answered ${status}: ${text}`);
}
