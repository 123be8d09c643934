import net from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Chance } from '../../sim/chance.ts';
import { type Counts, type Inspector, type Link, Relay } from '../../support/relay.ts';

/** What may become of one request on its way. */
export const REQUEST_FAULTS = [
  'request dropped',
  'request cut',
  'answer swallowed',
  'answer cut',
  'request doubled at once',
  'request doubled later',
] as const;
export type RequestFault = (typeof REQUEST_FAULTS)[number];

export interface LineOptions {
  readonly chance: Chance;
  readonly counts: Counts;
  readonly upstream: () => net.NetConnectOpts | null;
}

const LATER_MS = 150;
const ECHO_MS = 3_000;

/** A second connection that says the same and hears nothing of what is answered. */
function echo(to: net.NetConnectOpts | null, pieces: readonly Buffer[]): net.Socket | null {
  if (to === null) return null;
  const socket = net.connect(to);
  socket.on('error', () => undefined);
  socket.on('data', () => undefined);
  socket.setTimeout(ECHO_MS, () => socket.destroy());
  for (const piece of pieces) socket.write(piece);
  return socket;
}

/** The requests of one connection: each begins with the first bytes after an answer. */
class Requests implements Inspector {
  readonly #line: PhoneLine;
  readonly #link: Link;
  #pieces: Buffer[] = [];
  #answered = true;
  #fault: RequestFault | null = null;
  #echo: net.Socket | null = null;

  constructor(line: PhoneLine, link: Link) {
    this.#line = line;
    this.#link = link;
  }

  up(bytes: Buffer): Buffer | null {
    if (this.#answered) this.#begin(bytes);
    this.#pieces.push(bytes);
    this.#echo?.write(bytes);
    if (this.#fault === 'request dropped') return this.#end(() => this.#link.cut());
    if (this.#fault !== 'request cut') return bytes;
    const part = bytes.subarray(0, Math.max(1, Math.floor(bytes.length * 0.7)));
    return this.#end(() => this.#link.server.write(part, () => this.#link.cut()));
  }

  down(bytes: Buffer): Buffer | null {
    const fault = this.#fault;
    this.#answered = true;
    if (fault === 'answer swallowed') return this.#end(() => this.#link.cut());
    if (fault === 'answer cut') {
      const part = bytes.subarray(0, Math.floor(bytes.length * 0.7));
      return this.#end(() => this.#link.client.end(part, () => this.#link.cut()));
    }
    if (fault === 'request doubled later') void this.#line.again(this.#pieces);
    this.#done();
    return bytes;
  }

  #begin(bytes: Buffer): void {
    this.#answered = false;
    this.#pieces = [];
    this.#fault = this.#line.draw(bytes);
    this.#echo = this.#fault === 'request doubled at once' ? this.#line.echo([]) : null;
  }

  #end(act: () => void): null {
    this.#done();
    act();
    return null;
  }

  /** A fault is counted once it has happened. */
  #done(): void {
    if (this.#fault !== null) this.#line.happened(this.#fault, this.#pieces[0]);
    this.#fault = null;
  }
}

/** The way between a phone and the processes of the server. */
export class PhoneLine {
  readonly #options: LineOptions;
  #relay: Relay | null = null;
  /** Probability that a request meets a fault. */
  faults = 0;
  kinds: readonly RequestFault[] = REQUEST_FAULTS;

  private constructor(options: LineOptions) {
    this.#options = options;
  }

  static async open(options: LineOptions): Promise<PhoneLine> {
    const line = new PhoneLine(options);
    const { upstream, counts } = options;
    line.#relay = await Relay.open({ upstream, inspect: (link) => new Requests(line, link) }, counts);
    return line;
  }

  get relay(): Relay {
    if (!this.#relay) throw new Error('the line is not open');
    return this.#relay;
  }

  get base(): string {
    return `http://127.0.0.1:${this.relay.port}`;
  }

  draw(bytes: Buffer): RequestFault | null {
    const { chance } = this.#options;
    // what reaches nobody is drawn for all requests alike, so that pushes do not become rare
    if (!chance.yes(this.faults)) return null;
    const fault = chance.pick(this.kinds);
    return fault.startsWith('request doubled') && !isPush(bytes) ? null : fault;
  }

  happened(fault: RequestFault, first: Buffer | undefined): void {
    this.#options.counts.add(fault);
    if (first && isPush(first)) this.#options.counts.add(`${fault} (push)`);
  }

  echo(pieces: readonly Buffer[]): net.Socket | null {
    return echo(this.#options.upstream(), pieces);
  }

  async again(pieces: readonly Buffer[]): Promise<void> {
    await sleep(LATER_MS);
    this.echo(pieces);
  }
}

function isPush(bytes: Buffer): boolean {
  return bytes.subarray(0, 18).toString('latin1') === 'POST /v1/sync/push';
}
