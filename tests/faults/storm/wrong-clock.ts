import { mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';

const PRELOAD = path.join(import.meta.dirname, '../../support/stepped-clock.mjs');

/** The clock of a process of the server: right at first, and wrong as one says, before it starts and while it runs. */
export class WrongClock {
  readonly environment: NodeJS.ProcessEnv;
  readonly #folder = mkdtempSync(path.join(os.tmpdir(), 'wellround-clock-'));
  readonly #file = path.join(this.#folder, 'error-ms');

  constructor() {
    this.set(0);
    // a clock of another year empties what compiled files are kept in, under those that read it
    this.environment = { TSX_DISABLE_CACHE: '1', NODE_OPTIONS: `--import ${PRELOAD}`, CLOCK_FILE: this.#file };
  }

  set(errorMs: number): void {
    writeFileSync(`${this.#file}.new`, String(errorMs));
    // the process never reads half a number
    renameSync(`${this.#file}.new`, this.#file);
  }

  remove(): void {
    rmSync(this.#folder, { recursive: true, force: true });
  }
}
