import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import { Problem } from '../../protocol/problem.ts';
import type { PdfAnswer, PdfJob } from './pdf-job.ts';

/** Where documents are drawn. */
export interface PdfPool {
  /** @throws Problem `busy` where too many wait, one took too long or the pool is closed; `bad_request` for what cannot be drawn */
  draw(job: PdfJob): Promise<Uint8Array>;
  /** Ends every thread; what was not drawn is answered `busy`. */
  close(): Promise<void>;
}

export interface PdfPoolOptions {
  /** Threads at once: a page takes a core for some tenths of a second. */
  readonly threads?: number;
  /** Jobs that may wait for a thread. */
  readonly mostWaiting?: number;
  readonly timeoutMs?: number;
  /** A thread that nobody needed for so long ends. */
  readonly idleMs?: number;
  /** The program of a thread; another one for tests. */
  readonly program?: URL;
}

interface Waiting {
  readonly job: PdfJob;
  readonly resolve: (bytes: Uint8Array) => void;
  readonly reject: (error: Error) => void;
}

const DEFAULTS = { threads: 1, mostWaiting: 16, timeoutMs: 15_000, idleMs: 30_000 } as const;

/** The program of a thread beside this file: as it is written while it runs by tsx, as it is built from dist. */
const PROGRAM = new URL(import.meta.url.endsWith('.ts') ? './pdf-worker.ts' : './pdf-worker.js', import.meta.url);

/** A thread knows no TypeScript by itself; what is built needs nothing. */
function openThread(program: URL): Worker {
  if (!program.pathname.endsWith('.ts')) return new Worker(program, { execArgv: [] });
  // found as a required one would be, since not every runner of tests can resolve for an import; the one beside it is ESM
  const loader = new URL('./index.mjs', pathToFileURL(createRequire(import.meta.url).resolve('tsx/esm/api')));
  const start = `import(${JSON.stringify(loader.href)}).then(({ register }) => { register(); return import(${JSON.stringify(program.href)}); })`;
  return new Worker(start, { eval: true, execArgv: [] });
}

/** One thread, and the job that it is at. */
class Thread {
  readonly worker: Worker;
  at: Waiting | null = null;
  timer: NodeJS.Timeout | null = null;

  constructor(program: URL) {
    this.worker = openThread(program);
    // a thread that waits keeps no process alive
    this.worker.unref();
  }
}

class Pool implements PdfPool {
  readonly #settings: Required<PdfPoolOptions>;
  readonly #threads = new Set<Thread>();
  readonly #waiting: Waiting[] = [];
  #isClosed = false;

  constructor(options: PdfPoolOptions) {
    this.#settings = { ...DEFAULTS, program: PROGRAM, ...options };
  }

  draw(job: PdfJob): Promise<Uint8Array> {
    const { mostWaiting } = this.#settings;
    return new Promise((resolve, reject) => {
      if (this.#isClosed) return reject(new Problem('busy', 'the server is being shut down'));
      if (this.#waiting.length >= mostWaiting) {
        return reject(new Problem('busy', `${mostWaiting} documents wait to be drawn already`));
      }
      this.#waiting.push({ job, resolve, reject });
      this.#next();
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    for (const one of this.#waiting.splice(0)) one.reject(new Problem('busy', 'the server is being shut down'));
    await Promise.all([...this.#threads].map((thread) => this.#end(thread, 'the server is being shut down')));
  }

  /** Gives what waits to threads that have nothing to do, and starts one more where there is room. */
  #next(): void {
    while (this.#waiting.length > 0) {
      const free = [...this.#threads].find(({ at }) => at === null) ?? this.#open();
      const one = free && this.#waiting.shift();
      if (!free || !one) return;
      this.#give(free, one);
    }
  }

  #open(): Thread | undefined {
    if (this.#threads.size >= this.#settings.threads) return undefined;
    const thread = new Thread(this.#settings.program);
    this.#threads.add(thread);
    const failed = (why: string) => this.#failed(thread, why);
    thread.worker.on('message', (answer: PdfAnswer) => this.#answered(thread, answer));
    thread.worker.on('error', (error) => failed(error instanceof Error ? error.message : String(error)));
    thread.worker.on('exit', () => failed('the thread that drew it ended'));
    return thread;
  }

  #give(thread: Thread, one: Waiting): void {
    if (thread.timer) clearTimeout(thread.timer);
    thread.at = one;
    const { timeoutMs } = this.#settings;
    const late = `the document took longer than ${timeoutMs} ms: ask for less of it`;
    thread.timer = setTimeout(() => void this.#end(thread, late), timeoutMs);
    thread.worker.postMessage(one.job);
  }

  #answered(thread: Thread, answer: PdfAnswer): void {
    const { at } = thread;
    this.#rest(thread);
    if (!at) return;
    if ('bytes' in answer) at.resolve(answer.bytes);
    else if (answer.isRefused) at.reject(new Problem('bad_request', answer.fault));
    else at.reject(new Error(`a document could not be drawn: ${answer.fault}`));
    this.#next();
  }

  #rest(thread: Thread): void {
    if (thread.timer) clearTimeout(thread.timer);
    thread.at = null;
    thread.timer = setTimeout(() => void this.#end(thread, 'nobody needed it'), this.#settings.idleMs);
    thread.timer.unref();
  }

  /** A thread that broke is left behind, with the job that broke it. */
  #failed(thread: Thread, why: string): void {
    if (!this.#threads.delete(thread)) return;
    if (thread.timer) clearTimeout(thread.timer);
    thread.at?.reject(new Error(`a document could not be drawn: ${why}`));
    thread.at = null;
    this.#next();
  }

  async #end(thread: Thread, why: string): Promise<void> {
    if (!this.#threads.delete(thread)) return;
    if (thread.timer) clearTimeout(thread.timer);
    thread.at?.reject(new Problem('busy', why));
    thread.at = null;
    await thread.worker.terminate();
    if (!this.#isClosed) this.#next();
  }
}

/**
 * Draws documents in threads of their own, so that no request waits while a page is laid out. Threads are started when the
 * first document is asked for and end when nobody needs them.
 */
export function openPdfPool(options: PdfPoolOptions = {}): PdfPool {
  return new Pool(options);
}
