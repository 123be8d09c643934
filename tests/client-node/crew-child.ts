import { type ChildProcess, spawn } from 'node:child_process';
import { Readable } from 'node:stream';
import { runCrew } from '../../src/client-node/crew/run-crew.ts';
import { compiled } from '../support/compiled.ts';

/** The crews of these tests stand at the site, and their phones show its time: after midnight elsewhere it is today there. */
process.env.TZ = 'America/Chicago';

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export function startCrew(folder: string, args: readonly string[]): ChildProcess {
  const env = { ...process.env, CREW_FOLDER: folder };
  return spawn(process.execPath, [compiled('client-node/crew.ts'), ...args], { stdio: 'pipe', env });
}

/** One command, from its beginning to its end. */
export async function crew(folder: string, ...args: readonly string[]): Promise<Ran> {
  const child = startCrew(folder, args);
  child.stdin?.end();
  let [out, err] = ['', ''];
  child.stdout?.on('data', (more: Buffer) => {
    out += more.toString('utf8');
  });
  child.stderr?.on('data', (more: Buffer) => {
    err += more.toString('utf8');
  });
  const code = await new Promise<number | null>((done) => child.once('close', done));
  return { code, out, err };
}

/** The same without a process of its own, with these lines typed at what it asks. */
export async function crewTyping(folder: string, lines: readonly string[], ...args: readonly string[]): Promise<Ran> {
  let [out, err] = ['', ''];
  const code = await runCrew(args, {
    env: { CREW_FOLDER: folder },
    keys: Readable.from(lines.map((line) => `${line}\n`)),
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
  });
  return { code, out, err };
}

/** The same where nothing is asked. */
export function crewHere(folder: string, ...args: readonly string[]): Promise<Ran> {
  return crewTyping(folder, [], ...args);
}

/** A crew at the keys: types, and waits for what is said. */
export class Typist {
  readonly child: ChildProcess;
  out = '';
  readonly #ended: Promise<void>;

  constructor(folder: string, well: string) {
    this.child = startCrew(folder, ['read', well]);
    const take = (more: Buffer) => {
      this.out += more.toString('utf8');
    };
    this.child.stdout?.on('data', take);
    this.child.stderr?.on('data', take);
    this.#ended = new Promise((done) => this.child.once('close', () => done()));
  }

  type(keys: string): void {
    this.child.stdin?.write(keys);
  }

  async waitFor(text: string, times = 1): Promise<void> {
    const until = Date.now() + 20_000;
    while (this.out.split(text).length <= times) {
      if (Date.now() > until) throw new Error(`"${text}" was not said ${times} times, but:\n${this.out}`);
      await new Promise((done) => setTimeout(done, 10));
    }
  }

  async kill(): Promise<void> {
    this.child.kill('SIGKILL');
    await this.#ended;
  }

  async end(): Promise<void> {
    this.child.stdin?.end();
    await this.#ended;
  }
}
