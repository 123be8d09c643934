import type { TestApp } from '../../support/test-app.ts';

export interface Answered {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly text: string;
  // a test looks into whatever came
  // biome-ignore lint/suspicious/noExplicitAny: an answer has any form
  readonly body: any;
}

type Method = 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE';

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** Speaks REST to a test server with one token. */
export class RestClient {
  readonly #t: TestApp;
  readonly #secret: string | null;

  constructor(t: TestApp, secret: string | null) {
    this.#t = t;
    this.#secret = secret;
  }

  async send(method: Method, url: string, payload?: object | string | Buffer, headers: Record<string, string> = {}) {
    const auth = this.#secret === null ? {} : { authorization: `Bearer ${this.#secret}` };
    const type = payload === undefined ? {} : { 'content-type': 'application/json' };
    const all = { ...auth, ...type, ...headers };
    const response = await this.#t.app.inject({
      method,
      url: `/v1${url}`,
      headers: all,
      ...(payload === undefined ? {} : { payload }),
    });
    const { statusCode: status, headers: got, body: text } = response;
    return { status, headers: got, text, body: parse(text) } as Answered;
  }

  get(url: string, headers?: Record<string, string>): Promise<Answered> {
    return this.send('GET', url, undefined, headers);
  }

  post(url: string, payload?: object | string | Buffer, headers?: Record<string, string>): Promise<Answered> {
    return this.send('POST', url, payload, headers);
  }

  patch(url: string, payload: object, headers?: Record<string, string>): Promise<Answered> {
    return this.send('PATCH', url, payload, headers);
  }
}
