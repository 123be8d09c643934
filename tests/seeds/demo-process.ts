import { type ChildProcess, spawn } from 'node:child_process';
import path from 'node:path';

export const ROOT = path.join(import.meta.dirname, '../..');

export interface DemoProcess {
  readonly child: ChildProcess;
  readonly out: () => string;
  readonly err: () => string;
  /** Ends with the exit code, or the name of the signal. */
  readonly ended: Promise<number | string>;
  /** Resolves with the rest of the line that begins with a word, or fails when the demo ends before it says so. */
  line(begins: string): Promise<string>;
  /** As the terminal does on Ctrl-C: every process of the demo gets it. */
  signal(name: NodeJS.Signals): void;
}

export interface DemoOptions {
  readonly env: Readonly<Record<string, string>>;
  readonly args?: readonly string[];
  readonly account?: { readonly uid: number; readonly gid: number };
  /** Without npm around it, for an account that has no home. */
  readonly bare?: boolean;
}

const TSX = path.join(ROOT, 'node_modules/tsx/dist/cli.mjs');

function command({ bare, args = [] }: DemoOptions): [string, string[]] {
  if (bare) return [process.execPath, [TSX, path.join(ROOT, 'seeds/demo.ts'), ...args]];
  return ['npm', ['run', '--silent', 'demo', ...(args.length > 0 ? ['--', ...args] : [])]];
}

/** Nothing of the test run leaks in: a demo with a database of its own is what is tried. */
function environment({ env }: DemoOptions): NodeJS.ProcessEnv {
  const { PATH, HOME } = process.env;
  return { PATH, HOME, ...env };
}

export function startDemo(options: DemoOptions): DemoProcess {
  const [program, args] = command(options);
  const spawned = { cwd: ROOT, env: environment(options), detached: true, ...options.account };
  const child = spawn(program, args, { ...spawned, stdio: ['ignore', 'pipe', 'pipe'] });
  let out = '';
  let err = '';
  child.stdout.on('data', (chunk) => (out += String(chunk)));
  child.stderr.on('data', (chunk) => (err += String(chunk)));
  const ended = new Promise<number | string>((resolve) => {
    child.once('close', (code, signal) => resolve(code ?? signal ?? 'unknown'));
  });
  return {
    child,
    out: () => out,
    err: () => err,
    ended,
    line: (begins) =>
      new Promise((resolve, reject) => {
        const look = () => {
          const found = out.split('\n').find((line, at, all) => line.startsWith(begins) && at < all.length - 1);
          if (found !== undefined) resolve(found.slice(begins.length));
        };
        child.stdout.on('data', look);
        look();
        void ended.then((how) => reject(new Error(`the demo ended (${how}) before it said ${begins}: ${out}${err}`)));
      }),
    signal: (name) => {
      if (child.pid !== undefined) process.kill(-child.pid, name);
    },
  };
}
