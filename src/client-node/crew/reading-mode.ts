import { LocalError } from '../../client/local-error.ts';
import { StoreError } from '../../client/store-error.ts';
import { CrewError } from './crew-error.ts';
import { sync } from './do-sync.ts';
import { enterCall, enterLevel, enterReading } from './enter.ts';
import { initials } from './find.ts';
import { type Crew, changePeople } from './open-crew.ts';
import { people, showWell } from './show.ts';

/** Keys as a terminal sends them; read from a pipe they mean the same. */
const SWAP = '\t';
const ENTER = ['\r', '\n'];
const RUB_OUT = ['\u007f', '\b'];
/** Control-C and control-D. */
const END = ['\u0003', '\u0004'];

const HELP = [
  'Tab: the two of you change, who read now writes',
  'ph=7.10 temp=15.2 do=0.41 ...: a reading    level 12.34 (or dry): a water level',
  'call stable (or not-stable-sampled, purging-continued ...): the call    show, sync, ?, done',
];

export interface Keys extends AsyncIterable<string | Buffer> {
  readonly isTTY?: boolean;
  setRawMode?(raw: boolean): unknown;
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

async function entered(crew: Crew, well: string, words: readonly string[]) {
  const [word = '', ...rest] = words;
  if (word === 'level') return enterLevel(crew, well, rest[0] ?? '', { forPurge: true });
  if (word === 'call') return enterCall(crew, well, rest[0] ?? '', rest.slice(1).join(' ') || undefined);
  return enterReading(crew, well, words);
}

/** What is said as kept is on the disk. */
async function takeLine(crew: Crew, well: string, line: string): Promise<void> {
  const words = line.split(/\s+/).filter(Boolean);
  if (words.length === 0) return;
  if (line === '?') return HELP.forEach((one) => void crew.say(one));
  if (line === 'sync') return void (await sync(crew));
  if (line === 'show') return showWell(crew, well);
  const { mutationId } = await entered(crew, well, words);
  crew.say(`kept as number ${mutationId}: ${line}; ${await people(crew)}`);
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
    crew.say(`not kept: ${error.message}`);
  }
}

/** One key after another, so that a change of people counts for what is typed after it and for nothing before. */
async function readKeys(crew: Crew, well: string, keys: Keys, write: (text: string) => void): Promise<void> {
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
        await trying(crew, () => takeLine(crew, well, whole));
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
export async function readingMode(crew: Crew, well: string, keys: Keys, write: (text: string) => void): Promise<void> {
  for (const line of HELP) crew.say(line);
  keys.setRawMode?.(true);
  try {
    await readKeys(crew, well, keys, write);
  } finally {
    keys.setRawMode?.(false);
    write('\n');
  }
}
