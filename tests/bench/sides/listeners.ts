import { connect, type Socket } from 'node:net';

const TAIL = /"tail":(\d+)\}/g;
const PATIENCE_MS = 20_000;
/** Connections that are opened at once. */
const AT_ONCE = 50;

export interface ListenersOptions {
  readonly url: string;
  readonly path: string;
  /** Headers of each listener, in turn. */
  readonly headers: readonly string[];
  readonly count: number;
}

/** Many who listen to one feed, and when each of them was told. Node's own client would cost more than what is measured. */
export class Listeners {
  readonly #sockets: Socket[] = [];
  readonly #heardMs: number[] = [];
  #waitingFor = Number.POSITIVE_INFINITY;
  #left = 0;
  #done: () => void = () => undefined;

  static async open({ url, path, headers, count }: ListenersOptions): Promise<Listeners> {
    const listeners = new Listeners();
    for (let from = 0; from < count; from += AT_ONCE) {
      const some = Array.from({ length: Math.min(AT_ONCE, count - from) }, (_, at) => from + at);
      await Promise.all(some.map((at) => listeners.#open(url, path, headers[at % headers.length] ?? '', at)));
    }
    return listeners;
  }

  /** Does something that all are to be told of, and gives when each of them was. */
  async told(tail: number, act: () => Promise<unknown>): Promise<readonly number[]> {
    this.#waitingFor = tail;
    this.#left = this.#sockets.length;
    this.#heardMs.fill(0);
    const all = new Promise<void>((resolve, reject) => {
      const timer = setTimeout(
        () => reject(new Error(`${this.#left} listeners were not told of ${tail}`)),
        PATIENCE_MS,
      );
      this.#done = () => {
        clearTimeout(timer);
        resolve();
      };
    });
    await Promise.all([act(), all]);
    this.#waitingFor = Number.POSITIVE_INFINITY;
    return [...this.#heardMs];
  }

  close(): void {
    for (const socket of this.#sockets) socket.destroy();
  }

  #open(url: string, path: string, headers: string, at: number): Promise<void> {
    const { hostname, port, host } = new URL(url);
    const socket = connect(Number(port), hostname);
    this.#sockets[at] = socket;
    this.#heardMs[at] = 0;
    return new Promise((resolve, reject) => {
      socket.on('error', reject);
      socket.on('close', () => reject(new Error('the server closed a stream')));
      socket.once('data', (chunk) => {
        if (chunk.toString('latin1', 9, 12) === '200') resolve();
        else reject(new Error(`a stream was answered ${chunk.toString('latin1')}`));
      });
      socket.on('data', (chunk) => this.#hear(chunk, at));
      socket.write(`GET ${path} HTTP/1.1\r\nhost: ${host}\r\naccept: text/event-stream\r\n${headers}\r\n`);
    });
  }

  #hear(chunk: Buffer, at: number): void {
    if (this.#heardMs[at] !== 0 || this.#left === 0) return;
    const nowMs = performance.now();
    for (const [, tail] of chunk.toString('latin1').matchAll(TAIL)) {
      if (Number(tail) < this.#waitingFor) continue;
      this.#heardMs[at] = nowMs;
      this.#left -= 1;
      if (this.#left === 0) this.#done();
      return;
    }
  }
}
