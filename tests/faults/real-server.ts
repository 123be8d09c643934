import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { compiled } from '../support/compiled.ts';

const ROOT = path.join(import.meta.dirname, '../..');

/** Nothing of the test run leaks in: a server with a database of its own, in a folder, is what is tried. */
function environment(dataDir: string, port: number, more: NodeJS.ProcessEnv = {}): NodeJS.ProcessEnv {
  const { PATH, HOME } = process.env;
  const own = { DATA_DIR: dataDir, PORT: String(port), LOG_LEVEL: 'warn', REQUESTS_PER_MINUTE: '1000000' };
  return { PATH, HOME, ...own, ...more };
}

/** One command to its end. @returns what it printed */
export async function command(dataDir: string, ...args: readonly string[]): Promise<string> {
  const child = spawn(process.execPath, [compiled('cli.ts'), ...args], { cwd: ROOT, env: environment(dataDir, 0) });
  let out = '';
  let err = '';
  child.stdout.on('data', (chunk) => (out += String(chunk)));
  child.stderr.on('data', (chunk) => (err += String(chunk)));
  const [code] = await once(child, 'close');
  if (code === 0) return out;
  throw new Error(`${args.join(' ')} ended with ${code}: ${err}`);
}

/** The server as it is started by `npm start`, but compiled before, in a process that can be killed. */
export class RealServer {
  readonly url: string;
  readonly #child: ChildProcess;
  readonly #log: () => string;

  private constructor(url: string, child: ChildProcess, log: () => string) {
    this.url = url;
    this.#child = child;
    this.#log = log;
  }

  static async start(dataDir: string, port = 0, more: NodeJS.ProcessEnv = {}): Promise<RealServer> {
    // node itself, not a command around it: a kill has to meet the server
    const child = spawn(process.execPath, [compiled('main.ts')], { cwd: ROOT, env: environment(dataDir, port, more) });
    let err = '';
    child.stderr.on('data', (chunk) => (err += String(chunk)));
    const url = await new Promise<string>((resolve, reject) => {
      let out = '';
      child.stdout.on('data', (chunk) => {
        out += String(chunk);
        const [, ready] = /^ready (\S+)$/m.exec(out) ?? [];
        if (ready !== undefined) resolve(ready);
      });
      child.once('close', (code) => reject(new Error(`the server ended (${code}) before it was ready: ${err}`)));
    });
    return new RealServer(url, child, () => err);
  }

  get port(): number {
    return Number(new URL(this.url).port);
  }

  /** Whether it runs, to whatever end it may have come. */
  get runs(): boolean {
    return this.#child.exitCode === null && this.#child.signalCode === null;
  }

  log(): string {
    return this.#log();
  }

  /** No handler runs, nothing is closed. */
  async kill(): Promise<void> {
    const ended = once(this.#child, 'close');
    this.#child.kill('SIGKILL');
    await ended;
  }

  /** It keeps all that it has, and does nothing; the others take it for slow. */
  pause(): void {
    this.#child.kill('SIGSTOP');
  }

  goOn(): void {
    this.#child.kill('SIGCONT');
  }

  async stop(): Promise<void> {
    const ended = once(this.#child, 'close');
    this.#child.kill('SIGTERM');
    await ended;
  }
}
