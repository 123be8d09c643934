import { once } from 'node:events';
import net from 'node:net';
import type pg from 'pg';

/** Where the connection is cut: before the database hears of the COMMIT, or after it has answered it. */
export type Cut = 'before-commit' | 'after-commit';

/** A way to the database that can be cut at the one moment when nobody knows what became of a transaction. */
export interface CutProxy {
  /** How to connect through it. */
  readonly config: pg.PoolConfig;
  /** The next so many commits are cut. */
  arm(cut: Cut, commits: number): void;
  /** How many were cut so far. */
  cuts(): number;
  /** Cuts every connection that is open. */
  cutAll(): void;
  close(): Promise<void>;
}

/** A simple query of the protocol: Q, a length of 4 bytes, the text and a zero. */
const COMMIT = Buffer.from('commit\0');

function upstreamOf(config: pg.PoolConfig): net.NetConnectOpts {
  if (config.connectionString !== undefined) {
    const url = new URL(config.connectionString);
    return { host: url.hostname, port: Number(url.port || 5432) };
  }
  const { host = 'localhost', port = 5432 } = config;
  return host.startsWith('/') ? { path: `${host}/.s.PGSQL.${port}` } : { host, port };
}

function through(config: pg.PoolConfig, port: number): pg.PoolConfig {
  if (config.connectionString === undefined) return { ...config, host: '127.0.0.1', port };
  const url = new URL(config.connectionString);
  url.host = `127.0.0.1:${port}`;
  return { ...config, connectionString: url.href };
}

export async function cutProxy(config: pg.PoolConfig): Promise<CutProxy> {
  let armed: { readonly cut: Cut; left: number } | undefined;
  let cuts = 0;
  const open = new Set<net.Socket>();

  function relay(client: net.Socket): void {
    const server = net.connect(upstreamOf(config));
    let swallow = false;
    const drop = () => {
      cuts++;
      client.destroy();
      server.destroy();
    };
    for (const socket of [client, server]) {
      open.add(socket);
      socket.on('error', () => undefined);
      socket.on('close', () => open.delete(socket));
    }
    client.on('data', (bytes) => {
      if (armed && armed.left > 0 && bytes.includes(COMMIT)) {
        armed.left--;
        if (armed.cut === 'before-commit') return drop();
        swallow = true;
      }
      server.write(bytes);
    });
    // the answer to the COMMIT is never passed on, but it was given: the transaction is in the database
    server.on('data', (bytes) => (swallow ? drop() : client.write(bytes)));
    client.on('end', () => server.end());
    server.on('end', () => client.end());
  }

  const listener = net.createServer(relay);
  listener.listen(0, '127.0.0.1');
  await once(listener, 'listening');
  return {
    config: through(config, (listener.address() as net.AddressInfo).port),
    arm: (cut, commits) => {
      armed = { cut, left: commits };
    },
    cuts: () => cuts,
    cutAll: () => {
      for (const socket of open) socket.destroy();
    },
    async close() {
      for (const socket of open) socket.destroy();
      listener.close();
      await once(listener, 'close');
    },
  };
}
