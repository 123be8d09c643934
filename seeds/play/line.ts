import { type ClientRequest, request as httpRequest } from 'node:http';
import type { FetchLike, FetchRequest, FetchResponse } from '../../src/client/fetch-like.ts';
import type { WorldClock } from './clock.ts';

/** What may happen to a request: it never arrives, it arrives and its answer does not, it is cut half way, or nothing. */
export type Mishap = 'lost' | 'answer-lost' | 'cut' | 'pass';

interface Awaiting {
  readonly request: 'push' | 'rows';
  readonly mishap: Mishap;
}

/** What a request takes in the play: long enough to be seen as a round trip. */
const REQUEST_MS = 180;
const LONGEST_WAIT_MS = 30_000;

/** Sends half of the body and hangs up, as a line does that drops: the server sees a request that ends too early. */
function sendHalf(url: string, { headers, body = '' }: FetchRequest): Promise<never> {
  const bytes = Buffer.from(body);
  return new Promise((_resolve, reject) => {
    const all = { ...headers, 'content-length': String(bytes.length) };
    const sending: ClientRequest = httpRequest(url, { method: 'POST', headers: all });
    sending.once('error', reject);
    sending.write(bytes.subarray(0, Math.floor(bytes.length / 2)), () => {
      sending.destroy(new Error('the line was cut in the middle of the push'));
    });
  });
}

/** The line from one phone to the server: there is a signal or there is none, and what was planned goes wrong. */
export class Line {
  readonly #clock: WorldClock;
  readonly #awaiting: Awaiting[] = [];
  signal = true;
  /** Mishaps that came about, so that the play can tell that none was planned in vain. */
  readonly met: Mishap[] = [];

  constructor(clock: WorldClock) {
    this.#clock = clock;
  }

  expect(request: Awaiting['request'], mishap: Mishap): void {
    this.#awaiting.push({ request, mishap });
  }

  get stillAwaiting(): number {
    return this.#awaiting.length;
  }

  #mishap(url: string): Mishap | null {
    const at = this.#awaiting.findIndex(({ request }) => url.includes(`/${request}`));
    if (at < 0) return null;
    const [met] = this.#awaiting.splice(at, 1);
    if (met) this.met.push(met.mishap);
    return met?.mishap ?? null;
  }

  readonly fetch: FetchLike = async (url, request) => {
    this.#clock.pass(REQUEST_MS);
    if (!this.signal) throw new Error('no signal');
    const mishap = this.#mishap(url);
    if (mishap === 'lost') throw new Error('the line dropped before the request was through');
    if (mishap === 'cut') return sendHalf(url, request);
    const answer: FetchResponse = await fetch(url, { ...request, signal: AbortSignal.timeout(LONGEST_WAIT_MS) });
    if (mishap !== 'answer-lost') return answer;
    await answer.text();
    throw new Error('the line dropped before the answer was here');
  };
}
