import { connect, type Socket } from 'node:net';

export interface HttpAnswer {
  readonly status: number;
  readonly body: Buffer;
}

const HEAD_END = Buffer.from('\r\n\r\n');

function lengthOf(head: string): number {
  const length = /\r\ncontent-length: *(\d+)/i.exec(head)?.[1];
  if (length === undefined) throw new Error(`an answer without content-length: ${head}`);
  return Number(length);
}

/**
 * One kept connection that asks one thing at a time. Node's own HTTP client costs as much time as some of the answers
 * that are measured here, and it shares the processor with the server.
 */
export class HttpConnection {
  readonly #socket: Socket;
  readonly #host: string;
  #chunks: Buffer[] = [];
  #size = 0;
  #wanted: { readonly status: number; readonly from: number; readonly until: number } | null = null;
  #resolve: ((answer: HttpAnswer) => void) | null = null;
  #reject: ((error: Error) => void) | null = null;

  private constructor(socket: Socket, host: string) {
    this.#socket = socket;
    this.#host = host;
    socket.setNoDelay(true);
    socket.on('data', (chunk) => this.#take(chunk));
    socket.on('error', (error) => this.#reject?.(error));
    socket.on('close', () => this.#reject?.(new Error('the server closed the connection')));
  }

  static open(url: string): Promise<HttpConnection> {
    const { hostname, port, host } = new URL(url);
    return new Promise((resolve, reject) => {
      const socket = connect(Number(port), hostname);
      socket.once('connect', () => resolve(new HttpConnection(socket, host)));
      socket.once('error', reject);
    });
  }

  ask(method: string, path: string, headers: string, body?: Buffer): Promise<HttpAnswer> {
    const length = body ? `content-length: ${body.length}\r\n` : '';
    const head = Buffer.from(`${method} ${path} HTTP/1.1\r\nhost: ${this.#host}\r\n${headers}${length}\r\n`);
    return new Promise((resolve, reject) => {
      this.#resolve = resolve;
      this.#reject = reject;
      this.#socket.write(body ? Buffer.concat([head, body]) : head);
    });
  }

  close(): void {
    this.#reject = null;
    this.#socket.destroy();
  }

  #take(chunk: Buffer): void {
    this.#chunks.push(chunk);
    this.#size += chunk.length;
    if (this.#wanted === null) this.#readHead();
    if (this.#wanted && this.#size >= this.#wanted.until) this.#finish(this.#wanted);
  }

  #readHead(): void {
    const bytes = this.#chunks.length === 1 ? (this.#chunks[0] ?? Buffer.alloc(0)) : Buffer.concat(this.#chunks);
    const end = bytes.indexOf(HEAD_END);
    if (end < 0) return;
    const head = bytes.toString('latin1', 0, end);
    const from = end + HEAD_END.length;
    this.#wanted = { status: Number(head.slice(9, 12)), from, until: from + lengthOf(head) };
  }

  #finish(wanted: { readonly status: number; readonly from: number; readonly until: number }): void {
    const body = Buffer.concat(this.#chunks).subarray(wanted.from, wanted.until);
    this.#chunks = [];
    this.#size = 0;
    this.#wanted = null;
    this.#reject = null;
    this.#resolve?.({ status: wanted.status, body });
  }
}
