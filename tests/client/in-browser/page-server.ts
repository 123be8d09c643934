import { createServer, type IncomingMessage, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import { build, type Plugin } from 'esbuild';

const HERE = import.meta.dirname;

/** Test files say `vitest`: in a page they get what stands in for it there. */
const vitestHere: Plugin = {
  name: 'vitest-here',
  setup: ({ onResolve }) => {
    onResolve({ filter: /^vitest$/ }, () => ({ path: path.join(HERE, 'vitest-here.ts') }));
  },
};

async function bundled(page: string): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: [path.join(HERE, page)],
    bundle: true,
    write: false,
    format: 'esm',
    platform: 'browser',
    target: 'es2023',
    plugins: [vitestHere],
    logLevel: 'error',
  });
  return outputFiles[0]?.text ?? '';
}

async function textOf(request: IncomingMessage): Promise<string> {
  const parts: Buffer[] = [];
  for await (const part of request) parts.push(part as Buffer);
  return Buffer.concat(parts).toString('utf8');
}

/** A page that cannot go on says so. */
const PAGE = `<!doctype html><script>
const failed = (said) => fetch('/told/failed', { method: 'POST', body: JSON.stringify(said) });
addEventListener('error', ({ message, error }) => failed(error?.stack ?? message));
addEventListener('unhandledrejection', ({ reason }) => failed(String(reason?.stack ?? reason)));
</script><script type="module" src="/script.js"></script>`;

/** Serves one page, and hears what it tells. */
export class PageServer {
  readonly url: string;
  readonly #server: Server;

  private constructor(server: Server) {
    this.#server = server;
    this.url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  }

  static async start(page: string, told: (what: string, about: unknown) => void): Promise<PageServer> {
    const script = await bundled(page);
    const server = createServer(async (request, response) => {
      const [, what] = /^\/told\/(\w+)$/.exec(request.url ?? '') ?? [];
      if (what !== undefined) told(what, JSON.parse(await textOf(request)));
      const isScript = request.url === '/script.js';
      response.setHeader('content-type', isScript ? 'text/javascript' : 'text/html');
      response.end(isScript ? script : PAGE);
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    return new PageServer(server);
  }

  async stop(): Promise<void> {
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
  }
}
