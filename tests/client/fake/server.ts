import type { FetchLike, FetchResponse } from '../../../src/client/fetch-like.ts';
import { answerFeeds, answerPage, answerPush, answerVerify, officeWrites, problem, type Said } from './answer.ts';
import { emptyState, type State } from './state.ts';

/** What goes wrong with one request. */
export type Fault =
  | 'none'
  | 'lose-request'
  | 'lose-response'
  | 'cut-request'
  | 'cut-response'
  | 'twice'
  | 'busy'
  | 'portal'
  | 'gateway';

export interface Asked {
  readonly method: string;
  readonly path: string;
  readonly token: string;
  readonly body: string;
}

function responseOf({ status, body, headers = {} }: Said, cut: boolean): FetchResponse {
  const text = JSON.stringify(body);
  return {
    status,
    headers: { get: (name) => headers[name.toLowerCase()] ?? null },
    text: async () => (cut ? text.slice(0, Math.floor(text.length / 2)) : text),
  };
}

function html(status: number): FetchResponse {
  return { status, headers: { get: () => null }, text: async () => '<html>Please sign in to this network</html>' };
}

/** A server of a few hundred lines in memory, reached through a fetch that can fail in every way a line fails. */
export class FakeServer {
  state: State;
  now = '2026-05-04T15:00:00Z';
  /** Which feeds a token may follow. */
  feeds: (token: string) => readonly string[] = () => ['firm'];
  fault: (asked: Asked) => Fault = () => 'none';
  durable: (lastMutation: number) => number = (lastMutation) => lastMutation;
  maxPushBytes = 8_388_608;
  verifyRows = 4;
  /** Bends an answer on its way out. */
  bend: (said: Said, asked: Asked) => Said = (said) => said;
  readonly asked: Asked[] = [];

  constructor(epoch: string) {
    this.state = emptyState(epoch);
  }

  snapshot(): State {
    return structuredClone(this.state);
  }

  /** Sets the database back to an older copy; with a new epoch when somebody said so. */
  restore(snapshot: State, epoch?: string): void {
    this.state = structuredClone(snapshot);
    if (epoch !== undefined) this.state.epoch = epoch;
  }

  write(feed: string, kind: string, id: string, fields: Record<string, unknown>): void {
    officeWrites(this.state, feed, kind, id, fields);
  }

  fetch: FetchLike = async (url, request) => {
    const path = url.replace(/^https?:\/\/[^/]+/, '');
    const token = (request.headers.authorization ?? '').replace('Bearer ', '');
    const asked = { method: request.method, path, token, body: request.body ?? '' };
    this.asked.push(asked);
    const fault = this.fault(asked);
    if (fault === 'lose-request') throw new Error('network unreachable');
    if (fault === 'busy') return responseOf({ ...problem(503, 'busy'), headers: { 'retry-after': '7' } }, false);
    if (fault === 'portal') return html(200);
    if (fault === 'gateway') return html(502);
    if (fault === 'twice') this.#handle(asked);
    const heard = fault === 'cut-request' ? { ...asked, body: asked.body.slice(0, asked.body.length / 2) } : asked;
    const said = this.bend(this.#handle(heard), asked);
    if (fault === 'lose-response') throw new Error('connection reset');
    return responseOf(said, fault === 'cut-response');
  };

  #handle({ method, path, token, body }: Asked): Said {
    const url = new URL(path, 'http://fake');
    const [, , , what, feed = '', part] = url.pathname.split('/').map(decodeURIComponent);
    if (method === 'POST') {
      if (new TextEncoder().encode(body).length > this.maxPushBytes) return problem(413, 'too_large');
      return answerPush(this.state, body, this.durable, this.now);
    }
    if (what === 'feeds' && feed === '') {
      const client = url.searchParams.get('client') ?? '';
      return answerFeeds(this.state, client, this.feeds(token), this.durable, this.now);
    }
    if (!this.feeds(token).includes(feed)) return problem(404, 'not_found');
    if (part === 'verify') return answerVerify(this.state, feed, url.searchParams.get('prefix') ?? '', this.verifyRows);
    const last = this.state.receipts[url.searchParams.get('client') ?? '']?.lines.length ?? 0;
    return answerPage(this.state, feed, url.searchParams.get('cursor'), Number(url.searchParams.get('limit')), last);
  }
}
