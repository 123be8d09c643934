import { once } from 'node:events';
import net from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';

export type Direction = 'up' | 'down';

/** One connection through a relay. */
export interface Link {
  readonly client: net.Socket;
  readonly server: net.Socket;
  /** Directions in which bytes were lost: nothing more can follow them in a stream of bytes. */
  readonly lost: Set<Direction>;
  cut(): void;
}

/** Looks at the bytes of one connection as they pass. @returns what goes on; null for nothing */
export interface Inspector {
  up(bytes: Buffer): Buffer | null;
  down(bytes: Buffer): Buffer | null;
}

export interface RelayOptions {
  /** Where a new connection leads; null where nothing answers. */
  readonly upstream: () => net.NetConnectOpts | null;
  readonly inspect?: (link: Link) => Inspector;
}

/** Between two pieces of a trickle. */
const TRICKLE_MS = 2;

interface Queues {
  up: Promise<void>;
  down: Promise<void>;
}

/** How often each thing happened: a scenario whose fault never came has shown nothing. */
export class Counts {
  readonly all = new Map<string, number>();

  add(what: string, more = 1): void {
    this.all.set(what, this.of(what) + more);
  }

  of(what: string): number {
    return this.all.get(what) ?? 0;
  }
}

/** A way between a client and a server over which every connection goes, and which can fail in each direction alone. */
export class Relay {
  readonly #options: RelayOptions;
  readonly #counts: Counts;
  readonly #listener: net.Server;
  readonly #links = new Set<Link>();
  readonly #swallowed = new Set<Direction>();
  #gate: Promise<void> | null = null;
  #open: () => void = () => undefined;
  /** Bytes are late by so much in each direction. */
  delayMs: Readonly<Record<Direction, number>> = { up: 0, down: 0 };
  /** Bytes come in pieces of so many, one after the other; 0 for as they come. */
  trickleBytes = 0;
  /** New connections are cut at once. */
  refusing = false;

  private constructor(options: RelayOptions, counts: Counts) {
    this.#options = options;
    this.#counts = counts;
    this.#listener = net.createServer((client) => this.#connect(client));
  }

  static async open(options: RelayOptions, counts: Counts): Promise<Relay> {
    const relay = new Relay(options, counts);
    relay.#listener.listen(0, '127.0.0.1');
    await once(relay.#listener, 'listening');
    return relay;
  }

  get port(): number {
    return (this.#listener.address() as net.AddressInfo).port;
  }

  /** An asymmetric partition: what goes in this direction arrives nowhere, and nobody is told. */
  swallow(direction: Direction): void {
    this.#swallowed.add(direction);
  }

  /** Everything waits on the way, as while a route is gone; it arrives after `release`. */
  hold(): void {
    this.#gate ??= new Promise((resolve) => {
      this.#open = resolve;
    });
  }

  release(): void {
    this.#gate = null;
    this.#open();
  }

  /** No more faults. A connection of which bytes were lost is reset, as a host does that hears of one it gave up. */
  heal(): void {
    this.#swallowed.clear();
    this.refusing = false;
    this.delayMs = { up: 0, down: 0 };
    this.trickleBytes = 0;
    this.release();
    for (const link of [...this.#links]) if (link.lost.size > 0) link.cut();
  }

  /** @returns how many connections there were */
  cutAll(): number {
    const links = [...this.#links];
    for (const link of links) link.cut();
    return links.length;
  }

  async close(): Promise<void> {
    this.release();
    this.cutAll();
    this.#listener.close();
    await once(this.#listener, 'close');
  }

  #connect(client: net.Socket): void {
    client.on('error', () => undefined);
    const to = this.refusing ? null : this.#options.upstream();
    if (to === null) {
      client.destroy();
      return;
    }
    const server = net.connect(to);
    const cut = () => {
      client.destroy();
      server.destroy();
      this.#links.delete(link);
    };
    const link: Link = { client, server, lost: new Set(), cut };
    this.#links.add(link);
    this.#relay(link);
  }

  #relay(link: Link): void {
    const { client, server } = link;
    const inspector = this.#options.inspect?.(link);
    const queues: Queues = { up: Promise.resolve(), down: Promise.resolve() };
    const take = (direction: Direction, to: net.Socket) => (bytes: Buffer) => {
      const passed = inspector ? inspector[direction](bytes) : bytes;
      if (passed === null) return;
      if (this.#swallowed.has(direction)) {
        link.lost.add(direction);
        this.#counts.add(`swallowed ${direction}`);
      }
      if (link.lost.has(direction)) return;
      for (const piece of this.#pieces(passed)) this.#send(queues, direction, () => void to.write(piece));
    };
    // where nothing arrives, it does not arrive either that the other end is gone
    const over = (direction: Direction, act: () => void) => () => {
      if (!link.lost.has(direction)) this.#send(queues, direction, act);
    };
    client.on('data', take('up', server));
    server.on('data', take('down', client));
    client.on(
      'end',
      over('up', () => void server.end()),
    );
    server.on(
      'end',
      over('down', () => void client.end()),
    );
    server.on('error', over('down', link.cut));
    client.on('close', over('up', link.cut));
    server.on('close', over('down', link.cut));
  }

  #pieces(bytes: Buffer): Buffer[] {
    const size = this.trickleBytes || bytes.length;
    const count = Math.ceil(bytes.length / size);
    return Array.from({ length: count }, (_, at) => bytes.subarray(at * size, (at + 1) * size));
  }

  /** In order within a direction, whatever is in the way. */
  #send(queues: Queues, direction: Direction, act: () => void): void {
    const lateMs = this.delayMs[direction] + (this.trickleBytes > 0 ? TRICKLE_MS : 0);
    queues[direction] = queues[direction].then(async () => {
      if (lateMs > 0) await sleep(lateMs);
      while (this.#gate !== null) await this.#gate;
      act();
    });
  }
}
