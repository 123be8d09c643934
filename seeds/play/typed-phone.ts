import type { FieldClient } from '../../src/client/client.ts';
import { type Crew, openCrew } from '../../src/client-node/crew/open-crew.ts';
import type { Keys } from '../../src/client-node/crew/reading-mode.ts';
import { runCrew } from '../../src/client-node/crew/run-crew.ts';
import { readSettings, writeSettings } from '../../src/client-node/crew/settings.ts';
import type { PhoneClock } from './clock.ts';
import type { Line } from './line.ts';
import { type Phone, type PhoneOptions, phoneParts } from './phone.ts';

/** A device whose records lie in files, so that a crew can work on it with the command line too. */
export interface TypedPhone extends Phone {
  readonly folder: string;
  /** One command of `npm run crew`, with what is typed while it runs; what fails in it fails the play. */
  crew(args: readonly string[], keys?: AsyncIterable<string>): Promise<void>;
  /** Puts it down: whoever takes it up goes by the time of the play, as long as that goes on. */
  putDown(): Promise<void>;
}

export interface TypedPhoneOptions extends PhoneOptions {
  readonly folder: string;
  /** Gets each line of its screen. */
  readonly show: (line: string) => void;
}

async function* nothingTyped(): AsyncGenerator<string> {}

/** Whole lines of what a command writes piece by piece. */
class Screen {
  readonly #show: (line: string) => void;
  #line = '';

  constructor(show: (line: string) => void) {
    this.#show = show;
  }

  write(text: string): void {
    const lines = `${this.#line}${text}`.split('\n');
    this.#line = lines.pop() ?? '';
    for (const line of lines.filter(Boolean)) this.#show(line);
  }
}

/** A terminal: it shows what is typed. */
function terminal(keys: AsyncIterable<string>): Keys {
  return { isTTY: true, [Symbol.asyncIterator]: () => keys[Symbol.asyncIterator]() };
}

/** Only one has the files at a time: the phone lets go of them while a command runs. */
class FilePhone implements TypedPhone {
  readonly label: string;
  readonly token: string;
  readonly clock: PhoneClock;
  readonly line: Line;
  readonly newId: () => string;
  readonly folder: string;
  readonly #show: (line: string) => void;
  #crew: Crew | null = null;

  constructor(options: TypedPhoneOptions) {
    const { clock, line, newId } = phoneParts(options);
    this.label = options.label;
    this.token = options.token;
    this.folder = options.folder;
    this.clock = clock;
    this.line = line;
    this.newId = newId;
    this.#show = options.show;
  }

  get client(): FieldClient {
    if (this.#crew === null) throw new Error(`${this.label} was put down, or a command runs on it`);
    return this.#crew.client;
  }

  async #close(): Promise<void> {
    await this.#crew?.close();
    this.#crew = null;
  }

  async crew(args: readonly string[], keys: AsyncIterable<string> = nothingTyped()): Promise<void> {
    const { folder, clock, line, newId } = this;
    const device = { time: () => clock, newId, fetch: line.fetch };
    await this.#close();
    this.#show(`$ npm run crew -- ${args.join(' ')}`);
    const screen = new Screen(this.#show);
    let wrong = '';
    const code = await runCrew(args, {
      env: { CREW_FOLDER: folder },
      keys: terminal(keys),
      device,
      out: (text) => screen.write(text),
      err: (text) => {
        wrong += text;
      },
    });
    if (code !== 0) throw new Error(`crew ${args.join(' ')} ended with ${code} on ${this.label}: ${wrong}`);
    this.#crew = await openCrew(folder, this.#show, device);
  }

  async putDown(): Promise<void> {
    await this.#close();
    const aheadMs = Math.round(this.clock.wallMs() - Date.now());
    await writeSettings(this.folder, { ...(await readSettings(this.folder)), aheadMs });
  }
}

/** Joins a folder of its own, as a crew does with the token that the office gave it. */
export async function openTypedPhone(options: TypedPhoneOptions): Promise<TypedPhone> {
  const phone = new FilePhone(options);
  await phone.crew(['join', options.base, options.token]);
  return phone;
}
