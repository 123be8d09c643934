import path from 'node:path';
import { parseArgs } from 'node:util';
import { LocalError } from '../../client/local-error.ts';
import { StoreError } from '../../client/store-error.ts';
import { recoverFileStore } from '../recover-file-store.ts';
import type { Command } from './command.ts';
import { COMMANDS } from './commands.ts';
import { counted } from './counted.ts';
import { CrewError } from './crew-error.ts';
import { enrolCrew } from './enrol.ts';
import { join } from './join.ts';
import { type Device, nodeDevice } from './node-device.ts';
import { openCrew, type Say } from './open-crew.ts';
import { inPlainWords } from './plain-words.ts';
import type { Keys } from './reading-mode.ts';
import { seenAt, takeTime, todayAt } from './time-of-day.ts';

const OPTIONS = [
  'folder',
  'reads',
  'writes',
  'purpose',
  'depth',
  'method',
  'remark',
  'reason',
  'neither',
  'at',
  'label',
] as const;
/** Said or not said. */
const FLAGS = ['again', 'anyway', 'all', 'done', 'out', 'calibrated', 'end'] as const;

/** What a command speaks through. */
export interface Console {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly keys: Keys;
  /** This computer, where none is named. */
  readonly device?: Device;
  out(text: string): void;
  err(text: string): void;
}

/** 0: done. 1: not done, the message says why. 2: kept, but not everything reached the server. */
const NOT_COMPLETE = 2;

function help(say: Say): void {
  say('crew: record in the field without a signal, sync when there is one. Usage: npm run crew -- COMMAND\n');
  const lines: [string, string][] = [
    ['enrol URL CODE [--label NAME]', 'get a token for this folder with a code of the office; needs a signal'],
    ['join URL TOKEN', 'put this folder under the token of your device; needs a signal'],
    ...Object.values(COMMANDS).map(({ usage, does }): [string, string] => [usage, does]),
    ['recover', 'after damage to the folder: save what was not sent, get the rest anew'],
  ];
  for (const [usage, does] of lines) say(`  ${usage}\n      ${does}`);
  say('\nEverywhere: --folder FOLDER (or CREW_FOLDER) is where the records are kept, .crew if not given.');
  say('What was seen earlier today: at=09:45 (or --at 09:45) behind anything that is recorded, time of the site.');
  say('"kept" means: on the disk of this computer, also if the power fails now.');
}

async function recover(folder: string, say: Say, { newId }: Device): Promise<number> {
  const { kept, unsent, carried, unreadable, copy } = await recoverFileStore(folder, newId);
  say(
    `saved ${counted(kept, 'record')} (${unsent} unsent, ${carried} carried); ${counted(unreadable, 'part')} could not be read`,
  );
  say(`the damaged file is kept as ${copy}; the next sync gets the rest`);
  return 0;
}

interface Call {
  readonly words: readonly string[];
  readonly option: (name: string) => string | undefined;
  readonly said: (flag: string) => boolean;
}

/** What the reader of options says by itself is for those who write programs. */
function optionWords({ code, message }: NodeJS.ErrnoException, command: string): string {
  const [, option = ''] = /'(-[^ ']*)/.exec(message) ?? [];
  const known = [...OPTIONS, ...FLAGS].map((name) => `--${name}`).join(', ');
  if (/^-\.?\d/.test(option) && command === 'short')
    return `"${option}..." is no water: give millilitres, crew short WELL 900`;
  if (/^-\.?\d/.test(option)) return `a figure below zero goes with its name, --depth=-0.35: "${option}..." was given`;
  if (code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION')
    return `there is no option "${option}": known are ${known} (crew help lists the commands)`;
  if (code === 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE' && (OPTIONS as readonly string[]).includes(option.slice(2)))
    return `something is missing behind ${option}: ${option} WORD; where it begins with a dash, ${option}=WORD`;
  return `${message} (crew help lists the commands)`;
}

function readCall(args: readonly string[]): Call {
  const string = { type: 'string' } as const;
  const boolean = { type: 'boolean' } as const;
  const named = Object.fromEntries(OPTIONS.map((name) => [name, string]));
  const options = { ...named, ...Object.fromEntries(FLAGS.map((name) => [name, boolean])) };
  try {
    const { values, positionals } = parseArgs({ args: [...args], options, allowPositionals: true });
    const given = new Map(Object.entries(values));
    const option = (name: string) => given.get(name) as string | undefined;
    return { words: positionals, option, said: (flag) => given.get(flag) === true };
  } catch (error) {
    throw new CrewError(optionWords(error as NodeJS.ErrnoException, args.find((one) => !one.startsWith('-')) ?? ''));
  }
}

const NOTHING_SAID: Call = { words: [], option: () => undefined, said: () => false };

/** A command that records nothing of a past hour must not seem to have heard of it. */
function timeFor(name: string, { takesTime }: Command, words: readonly string[], option: string | undefined) {
  if (takesTime) return takeTime(words, option);
  if (option === undefined) return { at: undefined, rest: words };
  const taking = Object.entries(COMMANDS).filter(([, command]) => command.takesTime);
  throw new CrewError(`crew ${name} takes no time: --at is for ${taking.map(([one]) => one).join(', ')}`);
}

function addressOf(given: string): string {
  if (!/^https?:/i.test(given) || !URL.canParse(given)) {
    throw new CrewError(`"${given}" is no address of a server: give it with http:// or https://, as http://${given}`);
  }
  return given.replace(/\/+$/, '');
}

async function run(args: readonly string[], { env, keys, device = nodeDevice(), out }: Console): Promise<number> {
  const say: Say = (line) => out(`${line}\n`);
  const wantsHelp = args.includes('--help');
  const { words, option, said } = wantsHelp ? NOTHING_SAID : readCall(args);
  const [name = 'help', ...rest] = words;
  if (name === 'help') {
    help(say);
    return 0;
  }
  const folder = path.resolve(option('folder') ?? env.CREW_FOLDER ?? '.crew');
  if (name === 'enrol') {
    const [url, ...code] = rest;
    if (!url || code.length === 0) throw new CrewError('something is missing: crew enrol URL CODE');
    const given = { code: code.join(' '), label: option('label') };
    return (await enrolCrew(folder, addressOf(url), given, say, device)) ? 0 : NOT_COMPLETE;
  }
  if (name === 'join') {
    const [url, token] = rest;
    if (!url || !token) throw new CrewError('something is missing: crew join URL TOKEN');
    return (await join(folder, addressOf(url), token, say, device)) ? 0 : NOT_COMPLETE;
  }
  if (name === 'recover') return recover(folder, say, device);
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (!command) throw new CrewError(`there is no command "${name}": crew help lists them`);
  const { at, rest: others } = timeFor(name, command, rest, option('at'));
  const crew = await openCrew(folder, say, device);
  try {
    const then = at === undefined ? null : await todayAt(crew, at);
    const done = await command.run(seenAt(crew, then), { words: others, option, said, keys, write: out });
    return done === false ? NOT_COMPLETE : 0;
  } finally {
    await crew.close();
  }
}

function messageOf(error: unknown): string {
  if (error instanceof LocalError) return inPlainWords(error);
  if (error instanceof CrewError || error instanceof StoreError) return error.message;
  return String((error as Error).stack);
}

/** The exit code; a refusal is said in one sentence, a fault of ours with where it came from. */
export async function runCrew(args: readonly string[], io: Console): Promise<number> {
  try {
    return await run(args, io);
  } catch (error) {
    io.err(`crew: ${messageOf(error)}\n`);
    if (error instanceof StoreError && error.code === 'store_damaged') io.err('crew recover does that.\n');
    return 1;
  }
}
