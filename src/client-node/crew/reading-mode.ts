import { LocalError } from '../../client/local-error.ts';
import { StoreError } from '../../client/store-error.ts';
import { correct, voidOne } from './correct.ts';
import { CrewError } from './crew-error.ts';
import { sync } from './do-sync.ts';
import { enterCall, enterLevel, enterReading } from './enter.ts';
import { initials } from './find.ts';
import { type Crew, changePeople } from './open-crew.ts';
import { inPlainWords } from './plain-words.ts';
import { askNow, standingAfter } from './questions.ts';
import { people, showWell } from './show.ts';
import { seenAt, takeTime, todayAt } from './time-of-day.ts';

/** Keys as a terminal sends them; read from a pipe they mean the same. */
const SWAP = '\t';
const ENTER = ['\r', '\n'];
const RUB_OUT = ['\u007f', '\b'];
/** Control-C and control-D. */
const END = ['\u0003', '\u0004'];

const HELP = [
  'Tab: the two of you change, who read now writes',
  'ph=7.10 temp=15.2 do=0.41 ...: a reading    level 12.34 (or dry): a water level',
  'at=09:45 behind any of them: it was read earlier today',
  'call stable (or not-stable-sampled, purging-continued ...): the call    show, sync, ?, done',
  'correct ph=7.10 comma forgotten: the last record, why    void entered twice: takes it out of the count',
];

export interface Keys extends AsyncIterable<string | Buffer> {
  readonly isTTY?: boolean;
  setRawMode?(raw: boolean): unknown;
}

export interface Reading {
  readonly keys: Keys;
  readonly write: (text: string) => void;
  /** A second visit at a well that was left may begin. */
  readonly again: boolean;
}

/** Who wrote reads, and who read writes. */
export async function swap(crew: Crew): Promise<void> {
  const { person } = await crew.client.identity();
  const reads = crew.settings.reads ?? person;
  if (person === null || reads === null || reads === person) {
    throw new CrewError('two people are needed to change: crew who --reads INITIALS --writes INITIALS');
  }
  await changePeople(crew, { reads: person, writes: reads });
}

async function prompt(crew: Crew, well: string): Promise<string> {
  const { person } = await crew.client.identity();
  const read = await initials(crew, crew.settings.reads ?? person);
  return `[${read} reads, ${await initials(crew, person)} writes] ${well}> `;
}

/** correct ph=7.10 temp=12.1 the reason in the words that are left */
function correctLast(crew: Crew, words: readonly string[]) {
  const pairs = words.filter((word) => word.includes('='));
  return correct(crew, 'last', pairs, words.filter((word) => !word.includes('=')).join(' '));
}

async function entered(crew: Crew, well: string, words: readonly string[], again: boolean) {
  const [word = '', ...rest] = words;
  if (word === 'level') return enterLevel(crew, well, rest[0] ?? '', { forPurge: true, again });
  if (word === 'call') return enterCall(crew, well, rest[0] ?? '', rest.slice(1).join(' ') || undefined);
  if (word === 'correct') return correctLast(crew, rest);
  if (word === 'void') return voidOne(crew, 'last', rest.join(' '));
  return enterReading(crew, well, words, { again });
}

/** What is said as kept is on the disk. */
async function takeLine(crew: Crew, well: string, line: string, again: boolean): Promise<void> {
  const words = line.split(/\s+/).filter(Boolean);
  if (words.length === 0) return;
  if (line === '?') return HELP.forEach((one) => void crew.say(one));
  if (line === 'sync') return void (await sync(crew));
  if (line === 'show') return showWell(crew, well);
  const { at, rest } = words[0] === 'correct' ? { at: undefined, rest: words } : takeTime(words);
  const then = at === undefined ? null : await todayAt(crew, at);
  const captured = await entered(seenAt(crew, then), well, rest, again);
  crew.say(`kept as number ${captured.sequence}: ${line}; ${await people(crew)}`);
  await askNow(crew, captured);
  if (words[0] === 'call') for (const said of await standingAfter(crew, captured)) crew.say(said);
}

function isForPerson(error: unknown): error is Error {
  return error instanceof CrewError || error instanceof LocalError || error instanceof StoreError;
}

/** An error that a person can mend is told, and the line is not kept; the mode goes on. */
async function trying(crew: Crew, work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (!isForPerson(error)) throw error;
    crew.say(error instanceof LocalError ? inPlainWords(error) : `not kept: ${error.message}`);
  }
}

/** One key after another, so that a change of people counts for what is typed after it and for nothing before. */
async function readKeys(crew: Crew, well: string, { keys, write, again }: Reading): Promise<void> {
  let line = '';
  const ask = async () => write(`${await prompt(crew, well)}${line}`);
  await ask();
  for await (const chunk of keys) {
    for (const key of String(chunk)) {
      if (END.includes(key)) return;
      if (key === SWAP) {
        await trying(crew, () => swap(crew));
        write('\n');
        await ask();
      } else if (ENTER.includes(key)) {
        if (keys.isTTY) write('\n');
        const whole = line.trim();
        line = '';
        if (whole === 'done') return;
        await trying(crew, () => takeLine(crew, well, whole, again));
        await ask();
      } else if (RUB_OUT.includes(key)) {
        if (line !== '' && keys.isTTY) write('\b \b');
        line = line.slice(0, -1);
      } else if (key >= ' ') {
        line += key;
        if (keys.isTTY) write(key);
      }
    }
  }
}

/** One reads, the other types, and one key changes them. */
export async function readingMode(crew: Crew, well: string, reading: Reading): Promise<void> {
  const { keys, write } = reading;
  for (const line of HELP) crew.say(line);
  keys.setRawMode?.(true);
  try {
    await readKeys(crew, well, reading);
  } finally {
    keys.setRawMode?.(false);
    write('\n');
  }
}
