import { type ClientRequest, get, type IncomingMessage } from 'node:http';

export interface LiveEvent {
  readonly event: string;
  readonly data: string;
}

const PATIENCE_MS = 8_000;

/** Who follows feeds over a real connection, and remembers what it was told. */
export class LiveReader {
  readonly status: number;
  readonly headers: IncomingMessage['headers'];
  readonly events: LiveEvent[] = [];
  /** Where each feed ends, as it was told last. */
  readonly tails = new Map<string, number>();
  text = '';
  closed = false;
  readonly #request: ClientRequest;
  readonly #response: IncomingMessage;
  readonly #waiting = new Set<() => void>();
  #rest = '';

  private constructor(request: ClientRequest, response: IncomingMessage) {
    this.#request = request;
    this.#response = response;
    this.status = response.statusCode ?? 0;
    this.headers = response.headers;
    response.setEncoding('utf8');
    response.on('data', (chunk: string) => this.#take(chunk));
    response.on('error', () => undefined);
    response.on('close', () => {
      this.closed = true;
      this.#look();
    });
  }

  static open(url: string, token: string, query = '', accept = 'text/event-stream'): Promise<LiveReader> {
    const headers = { authorization: `Bearer ${token}`, accept };
    return new Promise((resolve, reject) => {
      const request = get(`${url}/v1/sync/stream${query}`, { headers, agent: false }, (response) =>
        resolve(new LiveReader(request, response)),
      );
      request.on('error', reject);
    });
  }

  /** Why the server ended the stream; null where it did not say. */
  get reason(): string | null {
    const end = this.events.find(({ event }) => event === 'end');
    return end ? (JSON.parse(end.data) as { reason: string }).reason : null;
  }

  async until(what: string, is: () => boolean, patienceMs = PATIENCE_MS): Promise<void> {
    const begunMs = performance.now();
    while (!is()) {
      const leftMs = begunMs + patienceMs - performance.now();
      if (leftMs <= 0) throw new Error(`in vain for ${patienceMs} ms: ${what}; heard ${JSON.stringify(this.events)}`);
      await this.#change(leftMs);
    }
  }

  untilTail(feed: string, tail: number, patienceMs = PATIENCE_MS): Promise<void> {
    return this.until(`${feed} at ${tail}`, () => this.tails.get(feed) === tail, patienceMs);
  }

  untilClosed(patienceMs = PATIENCE_MS): Promise<void> {
    return this.until('the end', () => this.closed, patienceMs);
  }

  /** Takes nothing more from the line, without giving it up. */
  pause(): void {
    this.#response.pause();
  }

  resume(): void {
    this.#response.resume();
  }

  /** The line is cut. */
  cut(): void {
    this.#request.destroy();
  }

  #change(ms: number): Promise<void> {
    return new Promise((resolve) => {
      const done = () => {
        clearTimeout(timer);
        this.#waiting.delete(done);
        resolve();
      };
      const timer = setTimeout(done, ms);
      this.#waiting.add(done);
    });
  }

  #look(): void {
    for (const done of [...this.#waiting]) done();
  }

  #take(chunk: string): void {
    this.text += chunk;
    const blocks = (this.#rest + chunk).split('\n\n');
    this.#rest = blocks.pop() ?? '';
    for (const block of blocks) this.#read(block);
    this.#look();
  }

  #read(block: string): void {
    const field = (name: string) => new RegExp(`^${name}: (.*)$`, 'm').exec(block)?.[1];
    const [event, data] = [field('event'), field('data')];
    if (event === undefined || data === undefined) return;
    this.events.push({ event, data });
    if (event !== 'tail') return;
    const { feed, tail } = JSON.parse(data) as { feed: string; tail: number };
    this.tails.set(feed, tail);
  }
}
